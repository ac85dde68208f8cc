#include "io/words/text.h"

#include <gtest/gtest.h>

namespace standpoint {
namespace {

TEST(WellFormed, KeepsGoodTextAndReplacesEveryBadByte) {
  const std::string good = "pad \xC3\xA9 \xE2\x82\xAC \xF0\x9F\x94\xA9";
  EXPECT_EQ(well_formed(good), good);
  // RFC 3629, section 10: overlong "/", a surrogate, a value above U+10FFFF, a cut sequence.
  const std::string r = "\xEF\xBF\xBD";
  EXPECT_EQ(well_formed("\xC0\xAF"), r + r);
  EXPECT_EQ(well_formed("\xED\xA0\x80"), r + r + r);
  EXPECT_EQ(well_formed("\xF4\x90\x80\x80"), r + r + r + r);
  EXPECT_EQ(well_formed("a\xE2\x82"), "a" + r + r);
  EXPECT_EQ(well_formed("\x80z"), r + "z");
}

TEST(ForTerminal, LetsNoNameSteerTheTerminalOrBreakALine) {
  EXPECT_EQ(for_terminal("a\nb\r\t\x1b[2Jc\x7f\xC2\x9B"), "a\\nb\\r\\t\\x1b[2Jc\\x7f\\x9b");
  EXPECT_EQ(for_terminal("pad \xF0\x9F\x94\xA9"), "pad \xF0\x9F\x94\xA9");
  // Right-to-left override, an isolate, both marks, the Arabic one, a line separator.
  EXPECT_EQ(for_terminal("a\xE2\x80\xAE\xE2\x81\xA6\xE2\x80\x8E\xE2\x80\x8F\xD8\x9C\xE2\x80\xA8"),
            "a\\u202e\\u2066\\u200e\\u200f\\u061c\\u2028");
}

TEST(ForCsv, KeepsOnlyTheLineEndsThatAQuotedFieldMayHold) {
  EXPECT_EQ(for_csv("a\r\nb\t\x1b\xE2\x80\xAE"), "a\r\nb\\t\\x1b\\u202e");
}

TEST(ForJson, LeavesTheSameJsonWithoutRawCharacters) {
  const std::string json = "{\n \"a\xC2\x9B\xE2\x80\xAE\": \"\x7f\\n\xC3\xA9\"\n}";
  EXPECT_EQ(for_json(json), "{\n \"a\\u009b\\u202e\": \"\\u007f\\n\xC3\xA9\"\n}");
}

TEST(ForMarkup, EscapesWhatMarkupReads) {
  EXPECT_EQ(for_markup("</script><b a='\"'>&"), "&lt;/script&gt;&lt;b a=&#39;&quot;&#39;&gt;&amp;");
  EXPECT_EQ(for_markup(std::string("a\0b", 3)), "a\\x00b");
  EXPECT_EQ(for_markup("a\n\tb\x1b\xC2\x85\xE2\x80\xAE"), "a\n\tb\\x1b\\x85\\u202e");
  EXPECT_EQ(for_markup("a\xFF"), "a\xEF\xBF\xBD");
}

TEST(ColumnsOf, CountsWhatATerminalShows) {
  EXPECT_EQ(columns_of("abc"), 3u);
  EXPECT_EQ(columns_of("\xC3\xA9"), 1u);          // one letter of two bytes
  EXPECT_EQ(columns_of("e\xCC\x81"), 1u);         // with a combining accent
  EXPECT_EQ(columns_of("\xE6\xA9\x8B"), 2u);      // a wide character
  EXPECT_EQ(columns_of("\xF0\x9F\x94\xA9"), 2u);  // an emoji
}

}  // namespace
}  // namespace standpoint
