// A program outside writes a plan: all four files, or none and one sentence. That the bytes are the
// command's is held by tests/package.

#include "standpoint/write_plan.h"

#include <atomic>
#include <filesystem>
#include <fstream>
#include <optional>
#include <set>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include "source_dir.h"
#include "standpoint/read_scene.h"

namespace standpoint {
namespace {

namespace fs = std::filesystem;

class WritePlan : public testing::Test {
 protected:
  void SetUp() override {
    fs::remove_all(folder_);
    auto read = read_scene(source_dir() / "scenes/dowel/scene.json");
    ASSERT_TRUE(read);
    cell_.emplace(std::move(read->scene), std::move(read->meshes));
    auto plan = make_plan(*cell_);
    ASSERT_TRUE(plan);
    plan_ = std::move(*plan);
  }
  void TearDown() override { fs::remove_all(folder_); }

  [[nodiscard]] std::set<std::string> names() const {
    std::set<std::string> found;
    if (!fs::exists(folder_)) return found;
    for (const auto& entry : fs::directory_iterator(folder_)) found.insert(entry.path().filename());
    return found;
  }

  fs::path folder_ =
      fs::path(testing::TempDir()) / ("standpoint-write-plan-" + std::to_string(getpid()));
  std::optional<Cell> cell_;
  Plan plan_;
};

TEST_F(WritePlan, MakesTheFolderAndItsFourFiles) {
  const auto written = write_plan(folder_ / "new", *cell_, plan_);
  ASSERT_TRUE(written) << written.error();
  folder_ /= "new";
  EXPECT_EQ(names(),
            (std::set<std::string>{"page.html", "plan.json", "stations.csv", "touches.csv"}));
  folder_ = folder_.parent_path();
}

TEST_F(WritePlan, WritesNothingWhenItIsCalledOff) {
  const std::atomic<bool> is_over = true;
  Watch watch;
  watch.interrupted = &is_over;
  const auto written = write_plan(folder_, *cell_, plan_, watch);
  ASSERT_FALSE(written);
  EXPECT_EQ(written.error(), "interrupted");
  EXPECT_FALSE(fs::exists(folder_));
}

TEST_F(WritePlan, SaysWhyItCannot) {
  fs::create_directories(folder_);
  std::ofstream(folder_ / "file") << "mine";
  fs::create_directories(folder_ / "touches.csv");
  const auto into_file = write_plan(folder_ / "file", *cell_, plan_);
  ASSERT_FALSE(into_file);
  EXPECT_THAT(into_file.error(), testing::HasSubstr("not a folder"));
  const auto over_folder = write_plan(folder_, *cell_, plan_);
  ASSERT_FALSE(over_folder);
  EXPECT_THAT(over_folder.error(), testing::HasSubstr("touches.csv"));
  EXPECT_EQ(names(), (std::set<std::string>{"file", "touches.csv"}));
}

}  // namespace
}  // namespace standpoint
