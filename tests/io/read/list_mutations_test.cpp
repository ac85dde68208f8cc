// Whatever the text, a list comes out whole and sound, or at least one fault, and nothing crashes.
// tests/fuzz does the same for longer.
#include <gtest/gtest.h>

#include "tests/draw.h"
#include "tests/fuzz/sound_list.h"
#include "tests/io/read/qif_text.h"

namespace standpoint {
namespace {

const char* const kLists[] = {
    "name,type,x [mm],y,z,i,j,k,diameter,depth,tolerance,required\n"
    "pad-1,point,412.5,-80,61,0,0,1,,,0.2,yes\n"
    "\"a, \"\"b\"\"\",hole,1e3,.5,7,1,0,0,9.2,17,,no\n"
    "top,plane,0,0,5,0,0,1\ntop,plane,9,0,5\ntop,plane,0,9,5\n",
    "\xEF\xBB\xBFname;x;y;z;i;j;k;seat\r\nN1;2000,5;-500;300;0;0;1;40\r\nN2;1;2;3;;;;\r\n",
    "name\ttype\tx\ty\tz\twidth\tlength\tdepth\talong_i\talong_j\talong_k\n"
    "s\tslot\t1\t2\t3\t4\t20\t6\t1\t0\t0\n"
    "l\tline\t1\t2\t3\nl\tline\t1\t9\t3\n",
};
const char* const kPieces[] = {",",    ";",         "\t",       "\"",     "\n",    "\r",
                               "-",    "1e9",       "1e-99",    "0",      "\xC3",  "\xE2\x88\x92",
                               "[in]", "plane",     "nest",     "name",   "<",     ">",
                               "</",   "<!DOCTYPE", "&#0;",     "&x;",    "id=\"", "99",
                               "NaN",  "xId=\"1\"", "EXTERNAL", "<Sweep>"};

/// One to six changes: a piece put in, some bytes taken out, doubled or moved.
std::string mutated(std::string text, test::Draw& draw) {
  const std::size_t changes = 1 + draw.below(6);
  for (std::size_t c = 0; c < changes && !text.empty(); ++c) {
    const std::size_t at = draw.below(text.size());
    const std::size_t length = 1 + draw.below(draw.chance(0.8) ? 12 : text.size());
    const std::string taken = text.substr(at, length);
    switch (draw.below(5)) {
      case 0:
        text.insert(at, kPieces[draw.below(std::size(kPieces))]);
        break;
      case 1:
        text.erase(at, length);
        break;
      case 2:
        text.insert(at, taken);
        break;
      case 3:
        text.erase(at, length);
        text.insert(draw.below(text.size() + 1), taken);
        break;
      default:
        text[at] = static_cast<char>(draw.below(256));
    }
  }
  return text;
}

TEST(ListMutations, GiveAWholeListOrFaults) {
  for (std::uint64_t seed = 1; seed <= 6000; ++seed) {
    test::Draw draw(seed);
    const std::string text = mutated(kLists[draw.below(std::size(kLists))], draw);
    ASSERT_EQ(fuzz::wrong_with_list(text), "") << "seed " << seed << '\n' << text;
  }
}

TEST(ListMutations, GiveAWholeDocumentOrFaults) {
  for (std::uint64_t seed = 1; seed <= 3000; ++seed) {
    test::Draw draw(seed);
    const std::string text = mutated(test::qif_text(), draw);
    ASSERT_EQ(fuzz::wrong_with_list(text), "") << "seed " << seed << '\n' << text;
  }
}

}  // namespace
}  // namespace standpoint
