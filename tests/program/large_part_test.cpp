// The 10.5 m generator of a wind turbine (open data, where it is present), planned round in one
// run.

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

}  // namespace
}  // namespace standpoint::program
