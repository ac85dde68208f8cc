// The 10.5 m generator of a wind turbine (open data, where it is present), planned round in one
// run; and in a hall with columns, as docs/large-parts.md says.

#include <cstdlib>

#include <gtest/gtest.h>

#include "around.h"
#include "run_program.h"
#include "source_dir.h"

namespace standpoint::program {
namespace {

std::filesystem::path shared_data() {
  if (const char* folder = std::getenv("STANDPOINT_SHARED_DATA")) return folder;
  return source_dir() / ".." / "shared" / "data";
}

TEST(LargePart, IsPlannedRoundWithAProof) {
  const auto step = shared_data() / "iea15mw" / "Generator_detail.STEP";
  if (!std::filesystem::exists(step)) GTEST_SKIP() << "iea15mw/Generator_detail.STEP is not there";
  const Folder folder;
  const auto made = scenes::make_scene_around(step, folder.path(), 540);
  ASSERT_EQ(made.failed, "");
  const Outcome check = run_program({"check", (folder.path() / "scene.json").string(), "--json"});
  ASSERT_EQ(check.exit, 0) << check.err;
  EXPECT_EQ(check.json()["bodies"][0]["faces"], 3474);  // shared data's own README

  const Outcome outcome = run_program({"plan", (folder.path() / "scene.json").string(), "-o",
                                       (folder.path() / "out").string(), "--quiet"});
  ASSERT_LE(outcome.exit, 1) << outcome.err;
  const auto plan = read_json(folder.path() / "out" / "plan.json");
  EXPECT_GE(plan["features"].size(), 500u);
  EXPECT_GE(plan["candidates"]["tried"], 500);
  EXPECT_EQ(plan["optimality"]["status"], "optimal");
  EXPECT_EQ(plan["optimality"]["stations"], plan["stations"].size());
  int reached = 0;
  for (const auto& feature : plan["features"]) reached += feature["verdict"] != "blocked";
  EXPECT_GE(reached, 500);
}

/// Makes the scene that docs/large-parts.md walks to.
std::filesystem::path drum_scene(const std::filesystem::path& step,
                                 const std::filesystem::path& folder) {
  const auto drum = source_dir() / "scenes" / "drum";
  const Outcome list = run_program({"features", step.string(), "--size", "1000..", "--csv"});
  write_text(folder / "large.csv", list.out);
  const Outcome start =
      run_program({"start", step.string(), "--features", (folder / "large.csv").string(), "--hall",
                   (drum / "hall.json").string(), "-o", (folder / "drum").string(), "--quiet"});
  EXPECT_EQ(start.exit, 0) << start.err;
  auto scene = read_json(folder / "drum" / "scene.json");
  scene["include"].push_back((drum / "wall.json").string());
  write_text(folder / "drum" / "scene.json", scene.dump());
  return folder / "drum" / "scene.json";
}

struct Reached {
  int features = 0, together = 0;
  std::size_t stations = 0;
  std::string status;

  friend bool operator==(const Reached&, const Reached&) = default;
};

void PrintTo(const Reached& reached, std::ostream* out) {
  *out << reached.features << " features, " << reached.together << " together, from "
       << reached.stations << " stations, " << reached.status;
}

Reached planned(const std::filesystem::path& scene) {
  const auto folder = scene.parent_path() / "plan";
  const Outcome outcome = run_program({"plan", scene.string(), "-o", folder.string(), "--quiet"});
  EXPECT_EQ(outcome.exit, 1) << outcome.err;
  const auto plan = read_json(folder / "plan.json");
  Reached reached{0, 0, plan["stations"].size(), plan["optimality"]["status"]};
  for (const auto& feature : plan["features"]) {
    reached.features += feature["verdict"] != "blocked";
    reached.together += feature.contains("stations");
  }
  return reached;
}

TEST(LargePart, IsMeasuredByStationsTogetherAsItsPageSays) {
  const auto step = shared_data() / "iea15mw" / "Generator_detail.STEP";
  if (!std::filesystem::exists(step)) GTEST_SKIP() << "iea15mw/Generator_detail.STEP is not there";
  const Folder folder;
  const auto file = drum_scene(step, folder.path());
  EXPECT_EQ(planned(file), (Reached{144, 15, 3, "optimal"}));
  auto scene = read_json(file);
  scene["rules"]["split_features"] = false;
  write_text(file, scene.dump());
  EXPECT_EQ(planned(file), (Reached{131, 0, 4, "optimal"}));
}

}  // namespace
}  // namespace standpoint::program
