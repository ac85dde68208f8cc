#include "io/read/text/json_text.h"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "io/read/text/non_finite.h"

namespace standpoint {
namespace {

/// The document as the JSON library has it: for comparison with its own parser.
nlohmann::json as_library(const JsonValue& value) {
  if (value.as<std::nullptr_t>()) return nullptr;
  if (const auto* flag = value.as<bool>()) return *flag;
  if (const auto* number = value.as<double>()) return *number;
  if (const auto* text = value.as<std::string>()) return *text;
  if (const auto* list = value.as<JsonList>()) {
    auto out = nlohmann::json::array();
    for (const JsonValue& entry : *list) out.push_back(as_library(entry));
    return out;
  }
  auto out = nlohmann::json::object();
  for (const JsonMember& member : *value.as<JsonObject>())
    out[member.key] = as_library(member.value);
  return out;
}

TEST(JsonText, AValidTextIsReadAsTheLibraryReadsIt) {
  for (const std::string text :
       {"null", "[]", "{}", " [1, -2.5e3, 0, 18446744073709551615, -9223372036854775808] ",
        R"({"a": {"b": [true, false, null]}, "c": "\u00e4\n\"", "": [[], [[]], {}]})",
        "123456789012345678901234567890", "[1e308, -1e308, 1e-400]",
        R"(["NaN", "1e999", "-Infinity", "\\", "\\\"NaN"])"}) {
    FaultSink faults;
    const auto value = parse_json(text, faults);
    ASSERT_TRUE(value) << text;
    EXPECT_TRUE(faults.empty()) << text;
    EXPECT_EQ(as_library(*value), nlohmann::json::parse(text)) << text;
  }
}

TEST(JsonText, ValuesAreNumberedAsTheyBegin) {
  FaultSink faults;
  const auto value = parse_json(R"({"a": [1, {"b": 2}], "c": 3})", faults);
  ASSERT_TRUE(value);
  const auto& root = *value->as<JsonObject>();
  EXPECT_EQ(value->order, 0u);
  EXPECT_EQ(root[0].value.order, 1u);
  EXPECT_EQ(root[0].value.as<JsonList>()->at(1).order, 3u);
  EXPECT_EQ(root[1].value.order, 5u);
}

TEST(JsonText, EveryDuplicateKeyAndNonFiniteNumberIsToldInOneGo) {
  FaultSink sink;
  const auto value = parse_json(
      R"({"x": 1e999, "x": 1, "x": 2, "in": [{"k": -nan, "k": Infinity}, 0, -1E+400, 1e308]})",
      sink);
  EXPECT_TRUE(value) << "read to the end all the same";
  std::vector<std::string> told;
  for (const Fault& fault : sink.take())
    told.push_back(std::string(fault_word(fault.kind)) + " " + fault.where + " " + fault.value);
  EXPECT_EQ(told, (std::vector<std::string>{
                      "not-finite /x 1e999", "duplicate-key /x 1", "duplicate-key /x 2",
                      "not-finite /in/0/k -nan", "not-finite /in/0/k Infinity",
                      "duplicate-key /in/0/k (not finite)", "not-finite /in/2 -1E+400"}));
}

TEST(JsonText, LineAndColumnCountCharacters) {
  FaultSink sink;
  EXPECT_FALSE(parse_json("{\n\n  \"\xC3\xA4\xE2\x82\xAC\": tru\n}", sink));
  const Faults faults = sink.take();
  ASSERT_EQ(faults.size(), 1u);
  // Line 3: two blanks, a quoted key of two characters, colon, blank, then "tru" at 9 to 11; what
  // is wrong is the line's end at 12.
  EXPECT_NE(faults[0].allowed.find("line 3, column 12"), std::string::npos) << faults[0].allowed;
  EXPECT_EQ(faults[0].allowed.find("last read"), std::string::npos);
}

TEST(JsonText, WhatWasFoundBeforeASyntaxFaultIsToldToo) {
  FaultSink sink;
  EXPECT_FALSE(parse_json(R"({"a": {"b": 1, "b": 2}, "c": 1e999, "d" 5})", sink));
  const Faults faults = sink.take();
  ASSERT_EQ(faults.size(), 3u);
  EXPECT_EQ(faults[0].kind, FaultKind::duplicate_key);
  EXPECT_EQ(faults[1].kind, FaultKind::not_finite);
  EXPECT_EQ(faults[2].kind, FaultKind::syntax);
}

TEST(JsonText, MaskingMakesNoBadTextGood) {
  for (const std::string text :
       {"[1e999x]", "[1e999 1]", "[xNaN]", "[NaNx]", "[1.2.3e999]", "[--Infinity]", "{NaN: 1}",
        "[1e999e5]", "\"1e999", "[+Infinity]"}) {
    FaultSink faults;
    EXPECT_FALSE(parse_json(text, faults)) << text;
    EXPECT_EQ(faults.take().back().kind, FaultKind::syntax) << text;
  }
}

TEST(JsonText, MaskingKeepsEveryOtherByteInPlace) {
  const std::string text = "[1e999,\"1e999\\\"\", -Infinity ,5e3]";
  const MaskedText masked = mask_non_finite(text);
  EXPECT_EQ(masked.text, "[0    ,\"1e999\\\"\", 0         ,5e3]");
  ASSERT_EQ(masked.numbers.size(), 2u);
  EXPECT_EQ(masked.numbers[0].ordinal, 0u);
  EXPECT_EQ(masked.numbers[1].ordinal, 1u);
  EXPECT_EQ(masked.numbers[1].token, "-Infinity");
}

TEST(JsonText, ANumberOfAThousandDigitsIsNotFinite) {
  FaultSink faults;
  EXPECT_TRUE(parse_json("[" + std::string(1000, '9') + "]", faults));
  EXPECT_EQ(faults.take().front().kind, FaultKind::not_finite);
  // 308 digits fit: the greatest double is 1.797...e308.
  EXPECT_TRUE(parse_json("[" + std::string(308, '9') + "]", faults));
  EXPECT_TRUE(faults.empty());
}

TEST(JsonPointer, TildesAndSlashesAreEscaped) {
  // RFC 6901, section 5: the keys "a/b", "m~n" and "" are /a~1b, /m~0n and /.
  EXPECT_EQ(pointer_step("a/b"), "/a~1b");
  EXPECT_EQ(pointer_step("m~n"), "/m~0n");
  EXPECT_EQ(pointer_step(""), "/");
  EXPECT_EQ(pointer_step("~1"), "/~01");
}

TEST(ShortText, IsCutButNeverWithinACharacter) {
  for (std::size_t lead = 0; lead < 4; ++lead) {
    std::string text(lead, 'x');
    for (int i = 0; i < 100; ++i) text += "\xF0\x9F\x94\xA7";
    const std::string cut = short_text(std::string_view(text));
    EXPECT_LE(cut.size(), 64u);
    EXPECT_NO_THROW((void)nlohmann::json(cut).dump()) << "throws on broken UTF-8";
  }
  EXPECT_EQ(short_text(std::string_view("\xFF")), "\"\xEF\xBF\xBD\"") << "U+FFFD stands for it";
}

}  // namespace
}  // namespace standpoint
