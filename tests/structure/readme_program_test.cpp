// README shows the program that tests/package builds outside, byte for byte.

#include <algorithm>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "source_dir.h"
#include "text_files.h"

namespace standpoint::house {
namespace {

TEST(Readme, ShowsTheProgramThatIsBuiltOutside) {
  const std::string file = "tests/package/outside/use_standpoint.cpp";
  const std::string readme = text_of(source_dir() / "README.md");
  const std::string begin = "<!-- " + file + " -->\n```cpp\n", end = "```\n<!-- end -->\n";
  const std::size_t from = readme.find(begin);
  ASSERT_NE(from, std::string::npos) << "README.md has no block of " << file;
  const std::size_t to = readme.find(end, from);
  ASSERT_NE(to, std::string::npos) << "the block has no end";
  EXPECT_EQ(readme.substr(from + begin.size(), to - from - begin.size()),
            text_of(source_dir() / file));
}

TEST(Readme, ShowsAProgramThatIsShort) {
  const std::string program = text_of(source_dir() / "tests/package/outside/use_standpoint.cpp");
  EXPECT_LT(std::count(program.begin(), program.end(), '\n'), 60);
  EXPECT_THAT(program, testing::HasSubstr("#include <standpoint/plan.h>"));
}

}  // namespace
}  // namespace standpoint::house
