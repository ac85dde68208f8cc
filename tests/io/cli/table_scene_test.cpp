// The example of a scene of several files: little to write, and it plans.

#include <gtest/gtest.h>

#include <algorithm>

#include <nlohmann/json.hpp>

#include "tests/io/cli/whole_program.h"
#include "tests/source_dir.h"

namespace standpoint {
namespace {

namespace fs = std::filesystem;
using Json = nlohmann::json;

class TableScene : public WholeProgram {
 protected:
  TableScene() { fs::copy(source_dir() / "scenes/table", folder_ / "table"); }
};

TEST_F(TableScene, IsWrittenByHandInFewLines) {
  std::ptrdiff_t lines = 0;
  for (const char* file : {"scene.json", "hall.json", "kit.json"}) {
    const std::string text = got(fs::path("table") / file);
    EXPECT_FALSE(text.empty()) << file;
    lines += std::count(text.begin(), text.end(), '\n');
  }
  EXPECT_LT(lines, 40);
}

TEST_F(TableScene, HasNothingToWarnOf) {
  const Outcome checked = run({"check", path("table/scene.json"), "--json"});
  ASSERT_EQ(checked.exit, Exit::done) << checked.err;
  const Json told = Json::parse(checked.out);
  EXPECT_EQ(told["warnings"], Json::array());
  EXPECT_EQ(told["bodies"].size(), 6u);
  EXPECT_EQ(told["counts"]["features"], 8);
}

TEST_F(TableScene, IsPlannedWithAllThatItNames) {
  const Outcome planned = run({"plan", path("table/scene.json"), "-o", path("out"), "--json"});
  ASSERT_EQ(planned.exit, Exit::done) << planned.err << planned.out;
  const Json plan = Json::parse(planned.out);
  EXPECT_EQ(plan["scene"], "table on trestles");
  EXPECT_EQ(plan["units"], "mm");
  ASSERT_EQ(plan["features"].size(), 8u);
  for (const Json& feature : plan["features"]) EXPECT_NE(feature["verdict"], "blocked") << feature;
  EXPECT_EQ(plan["optimality"]["status"], "optimal");
  // The table hides its far faces from either aisle.
  EXPECT_EQ(plan["stations"].size(), 2u);
  // A point of the drawing in the scene: turned by a quarter about z, and shifted.
  const Json& top = plan["features"][0];
  ASSERT_EQ(top["name"], "top-1");
  EXPECT_EQ(top["touches"][0]["at"], Json({400 + 380.0, 2600 - 760.0, 655 + 95.0}));
}

TEST_F(TableScene, AFaultInAListTellsItsLineAndColumn) {
  std::string list = got("table/points.csv");
  list.replace(list.find("top-3,point,760"), 15, "top-3,point,7o0");
  put("table/points.csv", list);
  const Outcome checked = run({"check", path("table/scene.json")});
  EXPECT_EQ(checked.exit, Exit::wrong_input);
  EXPECT_NE(checked.err.find("points.csv:4:13: got \"7o0\""), std::string::npos) << checked.err;
}

TEST_F(TableScene, PackedItGivesTheSamePlan) {
  ASSERT_EQ(run({"pack", path("table/scene.json"), "-o", path("table.zip")}).exit, Exit::done);
  const Outcome plain = run({"plan", path("table/scene.json"), "-o", path("a"), "--json"});
  const Outcome packed = run({"plan", path("table.zip"), "-o", path("b"), "--json"});
  EXPECT_EQ(packed.out, plain.out);
}

}  // namespace
}  // namespace standpoint
