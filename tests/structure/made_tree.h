#pragma once

#include <filesystem>
#include <fstream>
#include <string>

#include <gtest/gtest.h>

namespace standpoint::house {

/// A small tree of files that a test writes line by line: the rules are shown to fail there. Gone
/// after the test.
class MadeTree : public testing::Test {
 protected:
  MadeTree() { std::filesystem::remove_all(root_); }
  ~MadeTree() override { std::filesystem::remove_all(root_); }

  void add(const std::string& file, const std::string& text) const {
    std::filesystem::create_directories((root_ / file).parent_path());
    std::ofstream(root_ / file, std::ios::app) << text << '\n';
  }

  std::filesystem::path root_ =
      std::filesystem::path(testing::TempDir()) /
      (std::string("standpoint-") +
       testing::UnitTest::GetInstance()->current_test_info()->test_suite_name() + "-" +
       testing::UnitTest::GetInstance()->current_test_info()->name());
};

}  // namespace standpoint::house
