#include "io/write/files/write_files.h"

#include <csignal>
#include <fstream>
#include <map>
#include <sstream>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

namespace standpoint {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;

class WriteTogether : public testing::Test {
 protected:
  void SetUp() override {
    const auto* test = testing::UnitTest::GetInstance()->current_test_info();
    folder_ = fs::temp_directory_path() /
              ("standpoint-" + std::string(test->name()) + "-" + std::to_string(getpid()));
    fs::remove_all(folder_);
    fs::create_directories(folder_);
  }
  void TearDown() override { fs::remove_all(folder_); }

  void put(const std::string& name, const std::string& bytes) const {
    std::ofstream(folder_ / name, std::ios::binary) << bytes;
  }
  /// Everything in the folder: name -> content ("<folder>" for a folder).
  [[nodiscard]] std::map<std::string, std::string> content() const {
    std::map<std::string, std::string> result;
    for (const auto& entry : fs::directory_iterator(folder_)) {
      std::ostringstream bytes;
      if (entry.is_regular_file()) bytes << std::ifstream(entry.path(), std::ios::binary).rdbuf();
      result[entry.path().filename()] = entry.is_directory() ? "<folder>" : bytes.str();
    }
    return result;
  }

  fs::path folder_;
};

using Content = std::map<std::string, std::string>;

TEST_F(WriteTogether, MakesTheFolderAndLeavesNothingElse) {
  folder_ /= "deep/er";
  EXPECT_EQ(write_together(folder_, {{"a.json", "one"}, {"b.csv", ""}}), std::nullopt);
  EXPECT_EQ(content(), (Content{{"a.json", "one"}, {"b.csv", ""}}));
  folder_ = folder_.parent_path().parent_path();
}

TEST_F(WriteTogether, TakesAFolderWithATrailingSlash) {
  EXPECT_EQ(write_together(folder_.string() + "/new/", {{"a", "one"}}), std::nullopt);
  EXPECT_TRUE(fs::exists(folder_ / "new" / "a"));
}

TEST_F(WriteTogether, ReplacesOldFilesAndLeavesStrangersAlone) {
  put("a.json", "old");
  put("mine.txt", "stays");
  EXPECT_EQ(write_together(folder_, {{"a.json", "new"}}), std::nullopt);
  EXPECT_EQ(content(), (Content{{"a.json", "new"}, {"mine.txt", "stays"}}));
}

TEST_F(WriteTogether, WhereOnePlaceIsAFolderNothingChanges) {
  put("a.json", "old");
  fs::create_directories(folder_ / "b.csv");
  const auto error = write_together(folder_, {{"a.json", "new"}, {"b.csv", "new"}});
  ASSERT_TRUE(error);
  EXPECT_THAT(*error, testing::AllOf(HasSubstr("b.csv"), HasSubstr("it is a folder")));
  EXPECT_EQ(content(), (Content{{"a.json", "old"}, {"b.csv", "<folder>"}}));
}

TEST_F(WriteTogether, AFolderBelowAFileIsRefusedAndToldBeforehand) {
  put("file", "x");
  const auto error = write_together(folder_ / "file" / "out", {{"a", "new"}});
  ASSERT_TRUE(error);
  EXPECT_EQ(content(), (Content{{"file", "x"}}));
  EXPECT_TRUE(why_unwritable(folder_ / "file" / "out"));
  EXPECT_TRUE(why_unwritable(folder_ / "file"));
  EXPECT_EQ(why_unwritable(folder_), std::nullopt);
  EXPECT_EQ(why_unwritable(folder_ / "not" / "yet"), std::nullopt);
}

/// Runs in a child whose files may not grow over 1000 bytes: what a full disk does, for root too.
template <class Job>
int with_full_disk(const Job& job) {
  const pid_t child = fork();
  if (child == 0) {
    std::signal(SIGXFSZ, SIG_IGN);  // else the kernel kills; ignored, write() fails
    const rlimit limit{1000, 1000};
    setrlimit(RLIMIT_FSIZE, &limit);
    _exit(job());
  }
  int status = 0;
  waitpid(child, &status, 0);
  return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

TEST_F(WriteTogether, AFullDiskLeavesTheOldFilesAndNoTemporaries) {
  put("a.json", "old");
  const fs::path made = folder_ / "made";
  const int outcome = with_full_disk([&] {
    const std::string large(5000, 'x');
    const bool told = write_together(folder_, {{"a.json", "new"}, {"b.csv", large}}).has_value();
    const bool told_too = write_together(made, {{"b.csv", large}}).has_value();
    return told && told_too ? 7 : 8;
  });
  EXPECT_EQ(outcome, 7);
  EXPECT_EQ(content(), (Content{{"a.json", "old"}}));  // the folder made on the way is gone as well
}

TEST_F(WriteTogether, AFolderWithoutPermissionIsTold) {
  if (geteuid() == 0) GTEST_SKIP() << "root may write anywhere; run as another user";
  fs::permissions(folder_, fs::perms::owner_read | fs::perms::owner_exec);
  EXPECT_TRUE(why_unwritable(folder_));
  EXPECT_TRUE(write_together(folder_, {{"a", "new"}}));
  fs::permissions(folder_, fs::perms::owner_all);
  EXPECT_TRUE(content().empty());
}

}  // namespace
}  // namespace standpoint
