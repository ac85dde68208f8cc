#include "io/read/text/decimal_number.h"
#include "tests/draw.h"

#include <charconv>
#include <cmath>
#include <string>

#include <gtest/gtest.h>

namespace standpoint {
namespace {

TEST(DecimalNumber, TakesWhatPeopleWrite) {
  EXPECT_EQ(decimal_number("12"), 12.0);
  EXPECT_EQ(decimal_number("-12.5"), -12.5);
  EXPECT_EQ(decimal_number("+0.5"), 0.5);
  EXPECT_EQ(decimal_number(".5"), 0.5);
  EXPECT_EQ(decimal_number("-.5"), -0.5);
  EXPECT_EQ(decimal_number("3."), 3.0);
  EXPECT_EQ(decimal_number("007"), 7.0);
  EXPECT_EQ(decimal_number("000.250"), 0.25);
  EXPECT_EQ(decimal_number("1e-3"), 1e-3);
  EXPECT_EQ(decimal_number("1.5E+2"), 150.0);
  EXPECT_EQ(decimal_number("123456789012345678901234567890"), 123456789012345678901234567890.0);
  EXPECT_TRUE(std::signbit(decimal_number("-0").value()));
}

TEST(DecimalNumber, TakesNothingElse) {
  for (const char* text :
       {"",   "+",     "-",    ".",   "e5",  "1e",   "1e+",  "--1",   "+-1", "1,5",   "1.5 ",
        " 1", "1.2.3", "0x10", "inf", "nan", "1e5x", "1e5 ", "1e5\n", "1f",  "1e400", "١"}) {
    EXPECT_FALSE(decimal_number(text)) << text;
  }
}

// std::from_chars, which the program's own library has.
TEST(DecimalNumber, IsTheNearestDouble) {
  constexpr std::uint64_t kSeed = 20260203;
  test::Draw draw(kSeed);
  for (int i = 0; i < 20000; ++i) {
    const double size = std::exp2(static_cast<double>(draw.below(120)) - 60);
    const std::string text =
        std::to_string(draw.between(0, 1.8) * size) + std::to_string(draw.below(1000000));
    double expected = 0;
    std::from_chars(text.data(), text.data() + text.size(), expected);
    EXPECT_EQ(decimal_number(text), expected) << text << ", seed " << kSeed << ", case " << i;
  }
}

}  // namespace
}  // namespace standpoint
