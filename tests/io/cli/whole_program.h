#pragma once

#include <atomic>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include <gtest/gtest.h>
#include <unistd.h>

#include "io/cli/run.h"

namespace standpoint {

/// The whole program but for the process around it, in a folder of the test's own.
class WholeProgram : public testing::Test {
 protected:
  struct Outcome {
    Exit exit;
    std::string out, err;
  };

  WholeProgram() {
    const auto* test = testing::UnitTest::GetInstance()->current_test_info();
    folder_ = std::filesystem::temp_directory_path() /
              ("standpoint-" + std::string(test->test_suite_name()) + "-" + test->name() + "-" +
               std::to_string(getpid()));
    std::filesystem::remove_all(folder_);
    std::filesystem::create_directories(folder_);
  }
  ~WholeProgram() override { std::filesystem::remove_all(folder_); }

  void put(const std::string& name, const std::string& bytes) const {
    std::ofstream(folder_ / name, std::ios::binary) << bytes;
  }
  [[nodiscard]] std::string got(const std::filesystem::path& name) const {
    std::ostringstream bytes;
    bytes << std::ifstream(folder_ / name, std::ios::binary).rdbuf();
    return bytes.str();
  }
  [[nodiscard]] std::string path(const std::filesystem::path& name) const {
    return (folder_ / name).string();
  }
  [[nodiscard]] Outcome run(const std::vector<std::string>& arguments) const {
    std::ostringstream out, err;
    const Exit exit = standpoint::run(arguments, {out, err, false, &interrupted_});
    return {exit, out.str(), err.str()};
  }

  /// What the program says of wrong input in `arguments`, without this test's folder.
  [[nodiscard]] std::string said(const std::vector<std::string>& arguments) const {
    const Outcome outcome = run(arguments);
    EXPECT_EQ(outcome.exit, Exit::wrong_input);
    EXPECT_EQ(outcome.out, "");
    std::string text = outcome.err;
    const std::string folder = folder_.string() + "/";
    for (std::size_t at = 0; (at = text.find(folder)) != std::string::npos;)
      text.erase(at, folder.size());
    return text;
  }

  std::filesystem::path folder_;
  std::atomic<bool> interrupted_ = false;
};

}  // namespace standpoint
