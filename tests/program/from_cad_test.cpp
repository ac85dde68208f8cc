// The walk of docs/from-cad.md: each command of it does what the page says, one after the other, on
// the public part that it names (open data, where it is present).

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <sstream>

#include <gtest/gtest.h>

#include "run_program.h"
#include "source_dir.h"

namespace standpoint::program {
namespace {

namespace fs = std::filesystem;

fs::path shared_data() {
  if (const char* folder = std::getenv("STANDPOINT_SHARED_DATA")) return folder;
  return source_dir() / ".." / "shared" / "data";
}

std::vector<std::string> words_of(const std::string& line) {
  std::istringstream in(line);
  std::vector<std::string> words;
  for (std::string word; in >> word;) words.push_back(word);
  return words;
}

/// The commands in the blocks below each "<!-- run -->", word by word.
std::vector<std::vector<std::string>> commands_of(const fs::path& page) {
  std::ifstream in(page);
  std::vector<std::vector<std::string>> commands;
  bool is_block = false;
  for (std::string line; std::getline(in, line);) {
    const bool is_command = line.rfind("    ", 0) == 0;
    if (line == "<!-- run -->")
      is_block = true;
    else if (is_block && is_command)
      commands.push_back(words_of(line));
    else if (!line.empty())
      is_block = false;
  }
  return commands;
}

/// The working folder of this process, until it goes.
class InFolder {
 public:
  explicit InFolder(const fs::path& folder) : before_(fs::current_path()) {
    fs::current_path(folder);
  }
  ~InFolder() { fs::current_path(before_); }
  InFolder(const InFolder&) = delete;
  InFolder& operator=(const InFolder&) = delete;

 private:
  fs::path before_;
};

TEST(FromCad, ThePageHasCommandsToRun) {
  const auto commands = commands_of(source_dir() / "docs" / "from-cad.md");
  ASSERT_GE(commands.size(), 6u);
  EXPECT_EQ(commands[0][1], "start");
  for (const auto& command : commands) EXPECT_EQ(command[0], "standpoint");
}

TEST(FromCad, TheCommandsOfThePageRunOnThePartThatItNames) {
  const auto commands = commands_of(source_dir() / "docs" / "from-cad.md");
  const auto part = shared_data() / "nist" / commands.at(0).at(2);
  if (!fs::exists(part)) GTEST_SKIP() << "nist/" << part.filename().string() << " is not there";
  const Folder folder;
  fs::copy_file(part, folder.path() / part.filename());
  const InFolder in(folder.path());
  for (const auto& command : commands) {
    std::string line;
    for (const std::string& word : command) line += word + " ";
    SCOPED_TRACE(line);
    const Outcome outcome = run_program({command.begin() + 1, command.end()});
    // 1: something is blocked, as the page says that it may be.
    EXPECT_LE(outcome.exit, 1) << outcome.err;
    EXPECT_NE(outcome.out, "");
  }
  std::ifstream scene("job/scene.json");
  EXPECT_LE(std::count(std::istreambuf_iterator<char>(scene), {}, '\n'), 40);
  // The page: 10 holes, and one station is enough for all that is found.
  const auto plan = read_json("job/plan/plan.json");
  std::size_t holes = 0, measured = 0;
  for (const auto& feature : plan["features"]) {
    const std::string name = feature["name"];
    holes += name.rfind("hole", 0) == 0 ? 1 : 0;
    measured += feature["verdict"] != "blocked" ? 1 : 0;
  }
  EXPECT_EQ(holes, 10u);
  EXPECT_EQ(measured, plan["features"].size());
  EXPECT_EQ(plan["stations"].size(), 1u);
}

}  // namespace
}  // namespace standpoint::program
