#include <gtest/gtest.h>

#include <fstream>

#include "tests/io/read/scene_samples.h"

namespace standpoint {
namespace {

using scene_samples::full_scene;
using scene_samples::least_scene;
using scene_samples::listed;

class SceneFile : public testing::Test {
 protected:
  void SetUp() override {
    // One a test: they run at the same time.
    const std::string test = testing::UnitTest::GetInstance()->current_test_info()->name();
    folder_ = std::filesystem::path(testing::TempDir()) / ("standpoint scene file " + test);
    std::filesystem::create_directories(folder_);
  }
  void TearDown() override { std::filesystem::remove_all(folder_); }

  std::filesystem::path write(const std::string& name, const std::string& text) const {
    std::ofstream(folder_ / name, std::ios::binary) << text;
    return folder_ / name;
  }

  std::filesystem::path folder_;
};

TEST_F(SceneFile, MeshesAreSoughtBesideTheScene) {
  const auto file = write("big cell.json", full_scene().dump());
  std::vector<std::filesystem::path> asked;
  SceneSources sources = scene_samples::stand_ins();
  sources.body = [&](const BodyRequest& request) {
    asked.push_back(request.file);
    return scene_samples::load_stand_in(request);
  };
  sources.text = [&](const std::filesystem::path& path, std::string_view thing) {
    return path == file ? text_of_file(path, thing) : scene_samples::stand_ins().text(path, thing);
  };
  const auto result = read_scene_with(file, sources);
  ASSERT_TRUE(result) << listed(result);
  EXPECT_EQ(asked.at(0), folder_ / "bedplate.step");
}

TEST_F(SceneFile, AByteOrderMarkIsNoFault) {
  const auto file = write("marked.json", "\xEF\xBB\xBF" + least_scene().dump());
  const auto result = read_scene_with(file, scene_samples::load_stand_in);
  ASSERT_TRUE(result) << listed(result);
  EXPECT_EQ(result->scene.name, "marked") << "the file's name without folder and extension";
}

TEST_F(SceneFile, WhatCannotBeReadIsToldUnderItsPath) {
  const auto missing = folder_ / "none.json";
  for (const auto& path : {missing, folder_}) {
    const auto result = read_scene_with(path, scene_samples::load_stand_in);
    ASSERT_FALSE(result);
    ASSERT_EQ(result.error().size(), 1u);
    EXPECT_EQ(result.error()[0].kind, FaultKind::file_unreadable);
    EXPECT_EQ(result.error()[0].where, path.string());
  }
}

TEST_F(SceneFile, AFileBeyond64MiBIsRefusedUnread) {
  const auto file = write("big.json", "");
  std::filesystem::resize_file(file, (std::uintmax_t{64} << 20U) + 1);
  const auto result = read_scene_with(file, scene_samples::load_stand_in);
  ASSERT_FALSE(result);
  ASSERT_EQ(result.error().size(), 1u);
  EXPECT_EQ(result.error()[0].kind, FaultKind::file_too_large);
  EXPECT_NE(result.error()[0].allowed.find("64 MiB"), std::string::npos);
}

}  // namespace
}  // namespace standpoint
