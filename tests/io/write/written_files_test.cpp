// Everything that the program writes as JSON keeps to its schema in docs/schemas.

#include <array>
#include <filesystem>
#include <set>
#include <sstream>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "io/write/json/plan_json.h"
#include "io/write/json/sight_json.h"
#include "tests/io/cli/ridge_scene.h"
#include "tests/io/write/hand_made.h"
#include "tests/io/write/plan_document.h"
#include "tests/io/write/written_by_the_program.h"

namespace standpoint {
namespace {

namespace fs = std::filesystem;
using hand_made::plan_document;
using schema_check::Json;
using schema_check::schemas;
using testing::IsEmpty;

}  // namespace

void WrittenByTheProgram::write_hand_made() {
  expect_kept(plan_document(), "the hand-made plan");
  Plan plan = hand_made::plan();
  plan.stations[0].pose_covariance.reset();
  plan.features[0].uncertainty.reset();
  plan.features[0].touch_uncertainty.clear();
  plan.unreached[0].at.reset();
  plan.optimality.cost = 2.5;
  plan.stations[0].sight.features[0].by_target[0].reset();  // a touch that its target leaves out
  const Scene scene = hand_made::scene();
  expect_kept(Json::parse(plan_json(scene, plan, find_cautions(scene, plan))), "without figures");
  expect_kept(Json::parse(plan_json(scene, Plan{}, Cautions{})), "the empty plan");
  Sight sight = hand_made::sight();
  expect_kept(Json::parse(sight_json(scene, sight)), "the hand-made sight");
  sight.nests[1].mark.verdict = Verdict::blocked;
  sight.nests[1].mark.best.reset();
  sight.nests[1].mark.margin.reset();
  sight.nests[1].mark.causes = {hand_made::broken_beam()};
  sight.nests[2].mark.best->shank_direction = Vec3(0, 0.6, 0.8);
  expect_kept(Json::parse(sight_json(scene, sight)), "a blocked nest");
}

/// A wire in a beam; as a fixture it could be moved.
void WrittenByTheProgram::write_wire() {
  Json scene = copied("wire");
  const std::string file = path("wire/scene.json");
  written({"check", file});
  written({"plan", file, "-o", path("wire-plan")});
  written({"sight", file, "--station", "door"});
  written({"why", file, "--station", "door", "--feature", "block-top"});
  written({"why", file, "--station", "gate", "--feature", "block-top"});
  // 40 mm aside the beam passes the wire, and a small shift breaks it.
  written({"why", file, "--at", "40,-4000,1019.05", "--feature", "block-top"});
  const std::string plan = path("wire-plan/plan.json");
  written({"why", file, "--station", "door", "--feature", "block-top", "--plan", plan});
  written({"why", file, "--station", "gate", "--feature", "block-top", "--plan", plan});
  scene["bodies"][1]["role"] = "fixture";
  scene["stations"]["zones"] = Json::parse(
      R"([{"name": "aisle", "floor": 0, "polygon": [[-400, -4300], [400, -4300], [400, -3800],
           [-400, -3800]], "heights": [1019.05, 1100], "spacing": 200}])");
  scene["stations"].erase("fixed");
  const std::string movable = put_beside("wire/movable.json", scene);
  written({"plan", movable, "-o", path("wire-zone")});
  written({"why", movable, "--at", "0,-4000,1019.05", "--feature", "block-top"});
  // Nothing would fix it: it is out of range from everywhere.
  scene["instrument"]["range"] = {30000, 40000};
  const std::string far = put_beside("wire/far.json", scene);
  written({"why", far, "--at", "0,-4000,1019.05", "--feature", "block-top"});
  written({"plan", far, "-o", path("wire-far")});
}

/// A stylus is needed; from low places it is in the plate's shadow.
void WrittenByTheProgram::write_dowel() {
  const Json scene = copied("dowel");
  const std::string file = path("dowel/scene.json");
  written({"check", file});
  written({"plan", file, "-o", path("dowel-plan")});
  written({"sight", file, "--station", "bench"});
  written({"sight", file, "--at", "600,-2500,700"});
  written({"why", file, "--station", "bench", "--feature", "dowel"});
  written({"why", file, "--at", "600,-2500,700", "--feature", "dowel"});
}

/// Bodies without files, in a scene of several files.
void WrittenByTheProgram::write_table() {
  copied("table");
  written({"check", path("table/scene.json")});
  written({"pack", path("table/scene.json"), "-o", path("table.zip")});
  Json scene = Json::parse(got("table/scene.json"));
  scene["bodies"][0]["pose"] = {{"translate", {0, 0, 40}}};
  written({"check", put_beside("table/afloat.json", scene)});
}

void WrittenByTheProgram::write_nests() {
  Json scene = copied("nests");
  const std::string file = path("nests/scene.json");
  written({"nests", file, "-o", path("nests-out")});
  const std::string nests = path("nests-out/nests.json");
  written({"rehearse", file, "--plan", nests, "--trials", "20"});
  written({"why", file, "--at", "300,-5000,1500", "--feature", "north", "--plan", nests});
  scene["rules"]["max_expanded"] = 0.01;
  written({"nests", put_beside("nests/hard.json", scene), "-o", path("nests-hard")});
  scene["rules"].erase("max_expanded");
  scene["instrument"].erase("error");
  written({"nests", put_beside("nests/plain.json", scene), "-o", path("nests-plain")});
}

/// The sites as nests: two tied stations, measured set-ups, nests in one line.
void WrittenByTheProgram::write_tied() {
  Json scene = Json::parse(got("nests/scene.json"));
  const Json all = scene["nest_sites"];
  scene["nests"] = Json::array({all[0], all[1], all[2], all[3]});
  scene["nest_sites"] = Json::array({all[4], all[5]});
  scene.erase("nest_surfaces");
  scene["rules"].erase("max_expanded");
  const std::string tied = put_beside("nests/tied.json", scene);
  written({"plan", tied, "-o", path("tied-plan")});
  written({"sight", tied, "--station", "south aisle"});
  written({"why", tied, "--station", "south aisle", "--nest", "post-1"});
  const std::array<double, 3> at{300, -5000, 1500};
  const std::string sound = put_readings(scene["nests"], at, 0);
  written({"sight", tied, "--measured", sound});
  written({"why", tied, "--measured", sound, "--station", "south aisle", "--feature", "north"});
  written({"sight", tied, "--measured", put_readings(scene["nests"], at, 3)});
  // From the other aisle the other features are reached.
  written({"sight", tied, "--measured", put_readings(scene["nests"], at, 0), "--station",
           "north aisle"});
  Json plain = scene;
  plain["instrument"].erase("error");
  written({"sight", put_beside("nests/plain.json", plain), "--measured",
           put_readings(scene["nests"], at, 0)});
  for (int n = 0; n < 4; ++n) scene["nests"][n]["at"] = {-2600 + 60 * n, -300, 2000};
  scene["nest_sites"].clear();
  written({"plan", put_beside("nests/line.json", scene), "-o", path("line-plan")});
}

/// Instruments that lean, over floor that is kept out.
void WrittenByTheProgram::write_leaning() {
  Json scene = Json::parse(got("wire/movable.json"));
  scene["stations"]["zones"][0]["instrument_up"] = {0.1, 0, 1};
  scene["stations"]["keep_out"] =
      Json::parse(R"([{"name": "pit", "polygon": [[0, -4300], [50, -4300], [50, -4250]]}])");
  const std::string leaning = put_beside("wire/leaning.json", scene);
  written({"plan", leaning, "-o", path("leaning-plan")});
  const std::string plan = path("leaning-plan/plan.json");
  written({"compare", path("wire-zone/plan.json"), plan});
  const std::vector<std::string> why{"why",  leaning,           "--feature", "block-top",
                                     "--at", "0,-4000,1019.05", "--up",      "0.1,0,1"};
  written(why);
  std::vector<std::string> in_plan = why;
  in_plan.insert(in_plan.end(), {"--plan", plan});
  written(in_plan);
  scene["instrument"]["range"] = {30000, 40000};
  const std::string far = put_beside("wire/far-leaning.json", scene);
  written({"plan", far, "-o", path("far-leaning")});
  written({"why", far, "--at", "0,-4000,1019.05", "--up", "0.1,0,1", "--feature", "block-top"});
  written({"sight", far, "--at", "0,-4000,1019.05", "--up", "0.1,0,1"});
  // From the bench no change that is tried would fix it.
  written({"why", path("dowel/scene.json"), "--station", "bench", "--up", "0.1,0,1", "--feature",
           "dowel"});
  const Json tied = Json::parse(got("nests/tied.json"));
  written({"sight", path("nests/tied.json"), "--measured",
           put_readings(tied["nests"], {300, -5000, 1500}, 0), "--at", "300,-5000,1500", "--up",
           "0.1,0,1"});
}

/// A plan of the program beside one in which everything has changed.
void WrittenByTheProgram::write_comparison() {
  const std::string old = path("tied-plan/plan.json");
  written({"compare", old, old});
  Json plan = Json::parse(got("tied-plan/plan.json"));
  ASSERT_EQ(plan["stations"].size(), 2u);
  const Json link{{"stations", {plan["stations"][0]["name"], plan["stations"][1]["name"]}},
                  {"nests", {"post-1", "other"}}};
  plan["links"] = {link};
  plan["features"][0]["margin"] = 0.5;
  plan["features"][0]["also_from"] = link["stations"];
  put_beside("other.json", plan);
  written({"compare", old, path("other.json")});
  plan["stations"][1]["name"] = "far";
  plan["stations"][1]["at"] = {90000, 0, 0};
  for (Json& feature : plan["features"])
    if (feature["station"] == link["stations"][1]) feature["station"] = "far";
  plan["features"][0]["also_from"] = {"far"};
  plan["features"][1]["name"] = "new";
  plan["links"][0]["stations"][1] = "far";
  written({"compare", old, put_beside("far.json", plan)});
}

/// A feature that two stations share, and one that they may not share.
void WrittenByTheProgram::write_shared() {
  Json scene = Json::parse(ridge_scene().dump());
  const std::string file = put_beside("ridge.json", scene);
  written({"plan", file, "-o", path("ridge-plan")});
  const std::string plan = path("ridge-plan/plan.json");
  written({"why", file, "--station", "front", "--feature", "top", "--plan", plan});
  Json other = Json::parse(got("ridge-plan/plan.json"));
  other["features"][0]["margin"] = 0.5;
  written({"compare", plan, put_beside("ridge-other.json", other)});
}

/// The part's own frame, named, chosen, and not held.
void WrittenByTheProgram::write_aligned() {
  Json scene = Json::parse(ridge_scene().dump());
  for (const auto& [name, x, y] :
       {std::tuple("a", -900, -200), {"b", 900, -200}, {"c", 0, -350}, {"d", 400, 300}})
    scene["features"].push_back({{"name", name},
                                 {"type", "point"},
                                 {"at", {x, y, 0}},
                                 {"normal", {0, 0, 1}},
                                 {"points", true}});
  scene["alignment"] = {{"features", {"a", "b", "c"}}, {"form", 0.01}};
  written({"plan", put_beside("aligned.json", scene), "-o", path("aligned-plan")});
  const Json plan = Json::parse(got("aligned-plan/plan.json"));
  EXPECT_EQ(plan["alignment"]["features"], Json({"a", "b", "c"}));
  EXPECT_EQ(plan["alignment"]["stations"], Json({"front"}));
  EXPECT_EQ(plan["stations"][0]["name"], "front");
  EXPECT_TRUE(plan["alignment"].contains("least_held"));
  EXPECT_NE(got("aligned-plan/page.html").find("Alignment to the part"), std::string::npos);
  scene["alignment"] = {{"choose", 3}, {"from", {"a", "b", "c", "d"}}};
  written({"plan", put_beside("chosen.json", scene), "-o", path("chosen-plan")});
  EXPECT_EQ(Json::parse(got("chosen-plan/plan.json"))["alignment"]["features"].size(), 3u);
  scene["alignment"] = {{"choose", 1}};
  written({"plan", put_beside("free.json", scene), "-o", path("free-plan")});
  EXPECT_EQ(Json::parse(got("free-plan/plan.json"))["alignment"]["features"].size(), 0u);
}

TEST_F(WrittenByTheProgram, EverythingKeepsToItsSchemaAndEachFieldIsWrittenOnce) {
  write_hand_made();
  write_wire();
  write_dowel();
  write_table();
  write_nests();
  write_tied();
  write_leaning();
  write_measured_part();
  write_comparison();
  write_shared();
  write_aligned();
  write_features();
  write_start();
  write_further_stations();
  write_faults();
  // A field that no document has is held to nothing: it needs a scene that leads to it.
  std::set<std::string> unseen;
  const auto look = [&](const Json& node) {
    if (!node.contains("properties")) return;
    const std::string title = node["title"];
    for (const auto& [key, property] : node["properties"].items())
      if (uses_[title][key].written == 0) unseen.insert(title + ": " + key);
  };
  for (const auto& [name, file] : schemas().files()) {
    look(file);
    for (const auto& [key, node] : file["$defs"].items()) look(node);
  }
  EXPECT_THAT(unseen, IsEmpty());
}

}  // namespace standpoint
