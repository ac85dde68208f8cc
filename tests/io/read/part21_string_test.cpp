// Strings of STEP files: what stands between the quotes, and what it means.

#include "io/read/cad/part21_string.h"

#include <gtest/gtest.h>

namespace standpoint {
namespace {

struct Case {
  const char* in_file;
  const char* means;
};

TEST(Part21String, EscapesMeanTheirCharacters) {
  for (const Case& c : std::initializer_list<Case>{{"plain", "plain"},
                                                   {"it''s", "it's"},
                                                   {"a\\\\b", "a\\b"},
                                                   {"\\X\\E9t\\X\\E9", "\u00e9t\u00e9"},
                                                   {"\\S\\ipsilon", "\u00e9psilon"},
                                                   {"\\PA\\\\S\\i", "\u00e9"},
                                                   {"\\X2\\03A90394\\X0\\ 5", "\u03a9\u0394 5"},
                                                   {"\\X2\\D83DDE00\\X0\\", "\U0001F600"},
                                                   {"\\X4\\0001F600\\X0\\", "\U0001F600"},
                                                   {"\\X2\\00D8\\X0\\20", "\u00d820"},
                                                   {"na\u00efve", "na\u00efve"},
                                                   {"split\r\nline", "splitline"},
                                                   {"", ""}}) {
    EXPECT_EQ(part21_string(c.in_file), c.means) << c.in_file;
  }
}

TEST(Part21String, WrongEscapesStayAsTheyAre) {
  for (const char* const text :
       {"\\", "\\X", "\\X\\", "\\X\\G1", "\\X2\\", "\\X2\\03A9", "\\X2\\3A9\\X0\\",
        "\\X2\\XXXX\\X0\\", "\\X4\\0001F6\\X0\\", "\\S\\", "\\Q\\"}) {
    EXPECT_EQ(part21_string(text), text);
  }
}

TEST(Part21String, HalfOfACharacterIsReplaced) {
  EXPECT_EQ(part21_string("\xff"), "\ufffd");
  EXPECT_EQ(part21_string("\\X2\\DE00\\X0\\"), "\ufffd");
  EXPECT_EQ(part21_string("\\X2\\D83D0041\\X0\\"), "\ufffdA");
  EXPECT_EQ(part21_string("\\X2\\D83D\\X0\\"), "\ufffd");
  EXPECT_EQ(part21_string("\\X4\\00110000\\X0\\"), "\\X4\\00110000\\X0\\");  // beyond Unicode
}

}  // namespace
}  // namespace standpoint
