// Scenes made of several files: what each file keeps for itself, what they share, and how faults
// tell which file they are in.

#include <gtest/gtest.h>

#include <map>

#include "tests/io/read/scene_samples.h"

namespace standpoint {
namespace {

using scene_samples::Json;
using scene_samples::listed;

/// Files of a scene, in memory; "cell/job.json" is the scene itself.
class ComposedScene : public testing::Test {
 protected:
  ComposedScene() {
    files_["cell/job.json"] = R"({"format": "standpoint-scene", "version": 1, "units": "mm",
      "include": ["hall.json", "kit.json"],
      "bodies": [{"name": "part", "role": "part", "box": {"size": [100, 100, 100]}}],
      "features": [{"name": "pad", "type": "point", "at": [0, 0, 100], "normal": [0, 0, 1],
                    "targets": ["ball"]}]})"_json;
    files_["cell/hall.json"] = R"({"format": "standpoint-scene", "version": 1, "units": "m",
      "chord_tolerance": 0.004,
      "frames": [{"name": "bay", "translate": [1, 2, 0], "rotate_xyz_deg": [0, 0, 90]}],
      "bodies": [{"name": "column", "role": "surroundings", "cylinder": {"diameter": 0.4, "height": 3},
                  "frame": "bay", "pose": {"translate": [0.5, 0, 0]}},
                 {"name": "crane", "role": "surroundings", "mesh": "meshes/crane.stl"}],
      "nests": [{"name": "N1", "frame": "bay", "at": [0.5, 0, 0.3], "normal": [1, 0, 0], "seat": 45}],
      "stations": {"zones": [{"name": "aisle", "heights": [1.2], "spacing": 0.5,
                              "polygon": [[0, 0], [2, 0], [2, 1]]}]},
      "rules": {"min_margin": 0.003}})"_json;
    files_["cell/kit.json"] = R"({"format": "standpoint-scene", "version": 1, "units": "mm",
      "instrument": {"name": "kit's", "beam": {"diameter": 6}, "range": [400, 40000],
                     "elevation": [-60, 75]},
      "full_targets": [{"name": "ball", "diameter": 38, "acceptance": 30, "aperture": 42}]})"_json;
  }

  [[nodiscard]] tl::expected<SceneFile, Faults> read() {
    SceneSources sources = scene_samples::stand_ins();
    sources.body = [this](const BodyRequest& request) {
      asked_.push_back(request);
      return scene_samples::load_stand_in(request);
    };
    sources.text = [this](const std::filesystem::path& file,
                          std::string_view thing) -> tl::expected<std::string, Faults> {
      const auto found = files_.find(file.lexically_normal().string());
      if (found != files_.end())
        return found->second.is_string() ? found->second.get<std::string>() : found->second.dump();
      return tl::unexpected(
          Faults{{file.string(), "", std::string(thing), FaultKind::file_unreadable, ""}});
    };
    return read_scene_with("cell/job.json", sources);
  }
  [[nodiscard]] Json& job() { return files_["cell/job.json"]; }
  [[nodiscard]] Json& hall() { return files_["cell/hall.json"]; }
  [[nodiscard]] Json& kit() { return files_["cell/kit.json"]; }

  std::map<std::string, Json> files_;  ///< a text stands for itself: no JSON
  std::vector<BodyRequest> asked_;
};

void expect_near(const Vec3& value, const Vec3& expected) {
  EXPECT_LT((value - expected).norm(), 1e-9)
      << value.transpose() << " instead of " << expected.transpose();
}

TEST_F(ComposedScene, TakesOverTheListsOfTheFilesItIncludes) {
  const auto read = this->read();
  ASSERT_TRUE(read) << listed(read);
  const Scene& scene = read->scene;
  EXPECT_EQ(scene.name, "job");
  EXPECT_EQ(scene.units, "mm");
  ASSERT_EQ(scene.bodies.size(), 3u);
  EXPECT_EQ(scene.bodies[0].name, "part") << "its own come first";
  EXPECT_EQ(scene.bodies[1].name, "column");
  EXPECT_EQ(read->meshes.size(), 3u);
  EXPECT_EQ(scene.nests.size(), 1u);
  ASSERT_EQ(scene.zones.size(), 1u);
  EXPECT_EQ(scene.features.at(0).targets, std::vector<TargetId>{TargetId(0)})
      << "of a target in another file";
}

TEST_F(ComposedScene, UnitsKeepToTheirOwnFile) {
  const auto read = this->read();
  ASSERT_TRUE(read) << listed(read);
  EXPECT_EQ(read->scene.zones[0].spacing, 500);
  EXPECT_EQ(read->scene.zones[0].polygon[1], Vec2(2000, 0));
  EXPECT_EQ(read->scene.rules.min_margin, 3);
  EXPECT_EQ(read->scene.instrument.range.high, 40000);
  EXPECT_EQ(read->bodies[0].high, Vec3(50, 50, 100));
  ASSERT_EQ(asked_.size(), 1u);
  EXPECT_EQ(asked_[0].default_mm_per_unit, 1000);
  EXPECT_EQ(asked_[0].chord_tolerance, 4) << "4 mm: the tolerance of its own file";
  EXPECT_EQ(read->scene.chord_tolerance, 0.1);
}

TEST_F(ComposedScene, PathsKeepToTheirOwnFile) {
  files_["cell/rooms/hall.json"] = hall();
  job()["include"][0] = "rooms/hall.json";
  const auto read = this->read();
  ASSERT_TRUE(read) << listed(read);
  ASSERT_EQ(asked_.size(), 1u);
  EXPECT_EQ(asked_[0].file, std::filesystem::path("cell/rooms/meshes/crane.stl"));
}

TEST_F(ComposedScene, AFramePlacesBodiesNestsAndFeatures) {
  hall()["features"] = {{{"name", "edge"},
                         {"type", "point"},
                         {"at", {0, 0.1, 0}},
                         {"normal", {0, 1, 0}},
                         {"frame", "bay"}}};
  const auto read = this->read();
  ASSERT_TRUE(read) << listed(read);
  // The frame turns x to y about its origin at (1000, 2000, 0): its (0.5, 0, 0) is half a metre
  // along y.
  expect_near((read->bodies[1].low + read->bodies[1].high) / 2, Vec3(1000, 2500, 1500));
  expect_near(read->scene.nests[0].at, Vec3(1000, 2500, 300));
  expect_near(read->scene.nests[0].normal, Vec3(0, 1, 0));
  const auto& edge = std::get<PointFeature>(read->scene.features.at(1).shape);
  expect_near(edge.at, Vec3(900, 2000, 0));
  expect_near(edge.normal, Vec3(-1, 0, 0));
}

TEST_F(ComposedScene, AFramePlacesTheEntriesOfAList) {
  hall()["feature_lists"] = {{{"file", "points.csv"}, {"frame", "bay"}, {"units", "in"}}};
  hall()["nest_lists"] = {{{"file", "pins.csv"}}};
  const auto read = this->read();
  ASSERT_TRUE(read) << listed(read);
  ASSERT_EQ(read->scene.features.size(), 3u);
  EXPECT_EQ(read->scene.features[2].name, "p2");
  // Two inches along the frame's x.
  expect_near(std::get<PointFeature>(read->scene.features[2].shape).at, Vec3(1000, 2050.8, 0));
  ASSERT_EQ(read->scene.nests.size(), 2u);
  expect_near(read->scene.nests[1].at, Vec3(0, 3000, 0));
}

TEST_F(ComposedScene, FramesKeepToTheirOwnFile) {
  job()["features"][0]["frame"] = "bay";
  const auto read = this->read();
  ASSERT_FALSE(read);
  ASSERT_EQ(read.error().size(), 1u) << listed(read);
  EXPECT_EQ(read.error()[0].where, "/features/0/frame");
  EXPECT_EQ(read.error()[0].kind, FaultKind::unknown_name);
}

TEST_F(ComposedScene, TheIncludingFilesInstrumentAndRulesWin) {
  job()["instrument"] = {
      {"name", "own"}, {"beam", {{"diameter", 4}}}, {"range", {1, 2}}, {"elevation", {-1, 1}}};
  job()["rules"] = {{"tight_margin", 7}};
  kit()["instrument"]["body"] = {{"radius", 9}, {"above", 9}, {"below", 9}};
  const auto read = this->read();
  ASSERT_TRUE(read) << listed(read);
  EXPECT_EQ(read->scene.instrument.name, "own");
  EXPECT_EQ(read->scene.instrument.body_radius, 0) << "none of the other instrument stays";
  EXPECT_EQ(read->scene.rules.tight_margin, 7);
  EXPECT_EQ(read->scene.rules.min_margin, 0) << "rules are taken whole";
}

TEST_F(ComposedScene, WhatDoesNotWinIsCheckedAllTheSame) {
  job()["rules"] = {{"tight_margin", 7}};
  hall()["rules"]["min_margn"] = 1;
  const auto read = this->read();
  ASSERT_FALSE(read);
  ASSERT_EQ(read.error().size(), 1u) << listed(read);
  EXPECT_EQ(read.error()[0].where, "cell/hall.json#/rules/min_margn");
}

TEST_F(ComposedScene, FaultsOfAllFilesAreToldAtOnceEachUnderItsOwn) {
  job()["features"][0]["at"] = {1, 2};
  hall()["bodies"][0]["role"] = "columns";
  hall().erase("units");
  kit()["full_targets"][0]["diameter"] = -1;
  const auto read = this->read();
  ASSERT_FALSE(read);
  std::vector<std::string> places;
  for (const Fault& fault : read.error()) places.push_back(fault.where);
  EXPECT_EQ(places, (std::vector<std::string>{"/features/0/at", "cell/hall.json#/units",
                                              "cell/hall.json#/bodies/0/role",
                                              "cell/kit.json#/full_targets/0/diameter"}))
      << listed(read);
}

TEST_F(ComposedScene, ANameInTwoFilesIsOneFaultThatNamesBoth) {
  hall()["bodies"][0]["name"] = "part";
  kit()["nests"] = hall()["nests"];
  kit()["nests"][0].erase("frame");
  const auto read = this->read();
  ASSERT_FALSE(read);
  ASSERT_EQ(read.error().size(), 2u) << listed(read);
  EXPECT_EQ(read.error()[0].where, "cell/hall.json#/bodies/0/name");
  EXPECT_NE(read.error()[0].allowed.find("cell/job.json#/bodies/0/name"), std::string::npos)
      << read.error()[0].allowed;
  EXPECT_EQ(read.error()[1].where, "cell/kit.json#/nests/0/name");
  EXPECT_NE(read.error()[1].allowed.find("cell/hall.json#/nests/0/name"), std::string::npos)
      << read.error()[1].allowed;
}

TEST_F(ComposedScene, ZonesShareOneNameSpaceOverAllFiles) {
  job()["stations"]["fixed"] = {{{"name", "aisle"}, {"at", {0, 0, 1000}}}};
  const auto read = this->read();
  ASSERT_FALSE(read);
  ASSERT_EQ(read.error().size(), 1u) << listed(read);
  EXPECT_EQ(read.error()[0].where, "cell/hall.json#/stations/zones/0/name");
}

TEST_F(ComposedScene, ACycleIsAFaultThatTellsTheWayRound) {
  kit()["include"] = {"hall.json"};
  hall()["include"] = {"kit.json"};
  const auto read = this->read();
  ASSERT_FALSE(read);
  ASSERT_EQ(read.error().size(), 1u) << listed(read);
  EXPECT_EQ(read.error()[0].kind, FaultKind::include_cycle);
  EXPECT_EQ(read.error()[0].where, "cell/kit.json#/include/0");
  EXPECT_NE(read.error()[0].allowed.find("cell/hall.json, included by cell/kit.json, included by "
                                         "cell/hall.json"),
            std::string::npos)
      << read.error()[0].allowed;
}

TEST_F(ComposedScene, AFileIncludedFromTwoOthersIsThereOnce) {
  hall()["include"] = {"kit.json"};
  const auto read = this->read();
  ASSERT_TRUE(read) << listed(read);
  EXPECT_EQ(read->scene.full_targets.size(), 1u);
}

TEST_F(ComposedScene, AFileThatIsNamedTwiceInOneListIsTold) {
  job()["include"].push_back("./hall.json");
  const auto read = this->read();
  ASSERT_FALSE(read);
  ASSERT_EQ(read.error().size(), 1u) << listed(read);
  EXPECT_EQ(read.error()[0].where, "/include/2");
  EXPECT_EQ(read.error()[0].kind, FaultKind::duplicate_entry);
}

TEST_F(ComposedScene, AnIncludedFileThatIsNoJsonIsToldAloneWithItsLine) {
  files_["cell/kit.json"] = "{\n  \"format\" 7";
  const auto read = this->read();
  ASSERT_FALSE(read);
  // Neither "ball" nor the instrument is called missing: they may stand in what cannot be read.
  ASSERT_EQ(read.error().size(), 1u) << listed(read);
  EXPECT_EQ(read.error()[0].kind, FaultKind::syntax);
  EXPECT_EQ(read.error()[0].where.rfind("cell/kit.json", 0), 0u) << read.error()[0].where;
  EXPECT_NE(read.error()[0].allowed.find("line 2"), std::string::npos);
}

TEST_F(ComposedScene, AnIncludedFileThatIsMissingIsToldWhereItIsNamed) {
  files_.erase("cell/kit.json");
  const auto read = this->read();
  ASSERT_FALSE(read);
  ASSERT_EQ(read.error().size(), 1u) << listed(read);
  EXPECT_EQ(read.error()[0].where, "/include/1");
  EXPECT_EQ(read.error()[0].kind, FaultKind::file_unreadable);
}

TEST_F(ComposedScene, AnIncludedFileOfAnotherFormatIsTold) {
  kit()["format"] = "standpoint-plan";
  const auto read = this->read();
  ASSERT_FALSE(read);
  ASSERT_EQ(read.error().size(), 1u) << listed(read);
  EXPECT_EQ(read.error()[0].where, "cell/kit.json#/format");
}

TEST_F(ComposedScene, AllFilesTogetherAreHeldToTheBoundOfOne) {
  const std::string blanks(std::size_t{40} << 20U, ' ');
  files_["cell/hall.json"] = hall().dump() + blanks;
  files_["cell/kit.json"] = kit().dump() + blanks;
  const auto read = this->read();
  ASSERT_FALSE(read);
  ASSERT_EQ(read.error().size(), 1u) << listed(read);
  EXPECT_EQ(read.error()[0].where, "/include/1");
  EXPECT_EQ(read.error()[0].kind, FaultKind::file_too_large);
}

TEST_F(ComposedScene, NothingOutsideOfAPackedScenesFolderIsRead) {
  SceneSources sources = scene_samples::stand_ins();
  sources.within = "unpacked";
  sources.within_shown = "job.zip";
  bool is_asked = false;
  sources.body = [&](const BodyRequest& request) {
    is_asked = true;
    return scene_samples::load_stand_in(request);
  };
  for (const char* path : {"../secret.stl", "/etc/secret.stl", "a/../../secret.stl"}) {
    job()["bodies"] = {{{"name", "part"}, {"role", "part"}, {"mesh", path}}};
    job().erase("include");
    job().erase("features");
    job()["instrument"] = kit()["instrument"];
    const auto read = parse_scene(job().dump(), "unpacked/scene.json", sources);
    ASSERT_FALSE(read) << path;
    ASSERT_EQ(read.error().size(), 1u) << listed(read);
    EXPECT_EQ(read.error()[0].where, "/bodies/0/mesh");
    EXPECT_NE(read.error()[0].allowed.find("inside job.zip"), std::string::npos)
        << read.error()[0].allowed;
    EXPECT_FALSE(is_asked);
  }
}

}  // namespace
}  // namespace standpoint
