// Everything that the program writes as JSON keeps to its schema in docs/schemas.

#include <array>
#include <filesystem>
#include <set>
#include <sstream>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "io/write/json/features_json.h"
#include "io/write/json/plan_json.h"
#include "io/write/json/sight_json.h"
#include "source_dir.h"
#include "tests/io/cli/ridge_scene.h"
#include "tests/io/cli/whole_program.h"
#include "tests/io/read/cad_files.h"
#include "tests/io/schema_check.h"
#include "tests/io/write/hand_made.h"
#include "tests/io/write/plan_document.h"

namespace standpoint {
namespace {

namespace fs = std::filesystem;
using hand_made::plan_document;
using schema_check::Json;
using schema_check::schemas;
using schema_check::Uses;
using testing::IsEmpty;

std::string listed(const std::vector<std::string>& lines) {
  std::string text;
  for (const std::string& line : lines) text += line + "\n";
  return text;
}

class WrittenByTheProgram : public WholeProgram {
 protected:
  /// A scene of scenes/, with its bodies, in a folder of the test's own.
  Json copied(const std::string& name) const {
    fs::copy(source_dir() / "scenes" / name, folder_ / name);
    return Json::parse(got(fs::path(name) / "scene.json"));
  }
  std::string put_beside(const std::string& file, const Json& scene) const {
    put(file, scene.dump());
    return path(file);
  }

  /// What a run writes to standard output keeps to the schema of its format.
  Json written(std::vector<std::string> arguments) {
    arguments.emplace_back("--json");
    const Outcome outcome = run(arguments);
    const Json object = Json::parse(outcome.out, nullptr, false);
    std::string line;
    for (const std::string& argument : arguments) line += argument + " ";
    EXPECT_TRUE(object.is_object()) << line << outcome.out << outcome.err;
    if (object.is_object()) expect_kept(object, line);
    return object;
  }

  void expect_kept(const Json& object, const std::string& what) {
    const std::string format = object["format"];
    const std::string file = format.substr(format.find('-') + 1) + ".schema.json";
    ASSERT_EQ(schemas().files().count(file), 1u) << file;
    const auto faults = schemas().faults(file, object, &uses_);
    EXPECT_TRUE(faults.empty()) << what << '\n' << listed(faults);
  }

  /// What a list of measured nests holds for an instrument at `at`, its axes those of the scene;
  /// one nest is read wrong by `blunder`.
  std::string put_readings(const Json& nests, const std::array<double, 3>& at, double blunder) {
    std::ostringstream csv;
    csv.precision(12);
    csv << "name,x,y,z\n";
    for (std::size_t n = 0; n < nests.size(); ++n) {
      csv << nests[n]["name"].get<std::string>();
      for (std::size_t i = 0; i < 3; ++i)
        csv << ',' << nests[n]["at"][i].get<double>() - at[i] + (n == 1 && i == 0 ? blunder : 0);
      csv << '\n';
    }
    put("readings.csv", csv.str());
    return path("readings.csv");
  }

  void write_hand_made();
  void write_wire();
  void write_dowel();
  void write_table();
  void write_leaning();
  void write_nests();
  void write_tied();
  void write_measured_part();
  void write_comparison();
  void write_shared();
  void write_aligned();
  void write_features();
  void write_start();
  void write_further_stations();
  void write_faults();

  Uses uses_;
};

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

/// A set-up by nests and part, with a touch of the wrong target, and a station that moved.
void WrittenByTheProgram::write_measured_part() {
  const Json scene = Json::parse(R"({
    "format": "standpoint-scene", "version": 1, "name": "corner", "units": "mm", "bodies": [],
    "instrument": {
      "name": "invented", "beam": {"diameter": 6, "growth_mrad": 0.2}, "range": [400, 40000],
      "elevation": [-60, 75], "body": {"radius": 160, "above": 180, "below": 320},
      "error": {"coverage_factor": 2, "transverse": {"fixed": 0.014, "per_metre": 0.0075},
                "radial": {"fixed": 0.012, "per_metre": 0.0009}}},
    "full_targets": [{"name": "ball-38", "diameter": 38.1, "acceptance": 30, "aperture": 30},
                     {"name": "ball-13", "diameter": 12.7, "acceptance": 30, "aperture": 30}],
    "features": [{"name": "top", "type": "plane", "normal": [0, 0, 1],
                  "points": [[0, 0, 0], [900, 0, 0], [0, 700, 0]]}],
    "nests": [{"name": "N1", "at": [-2000, -1000, 1300], "normal": [0, 0, 1], "seat": 30},
              {"name": "N2", "at": [3000, -1500, 1200], "normal": [0, 0, 1], "seat": 30},
              {"name": "N3", "at": [2500, 2500, 1500], "normal": [0, 0, 1], "seat": 30},
              {"name": "N4", "at": [-1500, 2500, 1600], "normal": [0, 0, 1], "seat": 30}]})");
  put("corner.json", scene.dump());
  // Read from (0, -3000, 1500).
  const std::string nests =
      "N1,,,-2000,2000,-200,\nN2,,,3000,1500,-300,\nN3,,,2500,5500,0,\nN4,,,-1500,5500,100,\n";
  const std::string touches = "top,1,ball-38,0,3000,-1480.95,\ntop,2,ball-38,900,3000,-1493.65,\n";
  const auto look = [&](const std::string& list) {
    put("corner.csv", "name,touch,target,x,y,z,when\n" + list);
    return written({"sight", path("corner.json"), "--measured", path("corner.csv")});
  };
  // All nests 2 mm further along x: the station moved the other way.
  look(nests + touches +
       "N1,,,-1998,2000,-200,end\nN2,,,3002,1500,-300,end\nN3,,,2502,5500,0,end\n"
       "N4,,,-1498,5500,100,end\n");
  look(nests + touches +
       "N1,,,-1998,2000,-200,end\nN2,,,3000,1500,-300,end\nN3,,,2500,5500,0,end\n");
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

/// One feature of each kind, with everything that can be told of it.
void WrittenByTheProgram::write_features() {
  write_worked_plate(folder_ / "plate.step");
  write_round_solids(folder_ / "round.step");
  put("list.csv",
      "name,x [mm],y [mm],z [mm],type\npad,1,2,3,point\nedge,1,2,3,line\nedge,9,2,3,line\n");
  written({"features", path("plate.step"), path("round.step"), path("list.csv")});
  FoundFeature hole;
  hole.name = "hole-6-1";
  hole.diameter = 6;
  hole.depth = 10;
  hole.steps = {HoleStep{Vec3::Zero(), 6, 10}};
  hole.tip = hole.datum = true;
  hole.countersink = 9;
  hole.fit = SurfaceFit{0.01, 0.02, 24, 1200, true};
  hole.tolerance = 0.4;
  hole.tolerance_from = "position 0.4";
  hole.component = "lid";
  PartAnswer part;
  part.file = "lid.stl";
  part.format = "STL";
  part.features = {hole};
  part.annotation.tolerances = {{}, {}};
  part.annotation.tolerances[1].zone = ZoneShape::sphere;
  part.annotation.tolerances[1].part_file = "lid.step";
  part.annotation.not_read = {{7, "flatness", "", "its record is damaged", "lid.step"}};
  part.passed_over = {{"rib", "CompoundFeatureNominal", "a group", "lid.qif:3:1"}};
  part.annotation.datums = {{"A", {3}, true, "lid.step"}};
  part.annotation.sizes = {{}, {}};
  part.annotation.sizes[1].is_angle = true;
  part.annotation.sizes[1].nominal = 1;
  part.annotation.sizes[1].part_file = "lid.step";
  expect_kept(Json::parse(features_json({{part}})), "the hand-made features");
}

/// A scene is written for a part, whose features are found or come from a list.
void WrittenByTheProgram::write_start() {
  const std::string part = path("dowel/plate.step");
  written({"start", part, "-o", path("start")});
  written({"start", part, "-o", path("start-list"), "--features", path("start/features.csv")});
}

/// One more station would make the worst feature surer: a fixed place, then one of a zone.
void WrittenByTheProgram::write_further_stations() {
  Json scene = Json::parse(got("nests/tied.json"));
  scene["nest_sites"].clear();
  scene["stations"]["fixed"].push_back(
      {{"name", "west end"}, {"at", {-5000, 0, 1500}}, {"instrument_up", {0.05, 0, 1}}});
  written({"plan", put_beside("nests/west.json", scene), "-o", path("west-plan")});
  scene["stations"]["fixed"].erase(std::size_t{2});
  scene["stations"]["zones"] = Json::parse(
      R"([{"name": "east aisle", "floor": 0, "polygon": [[5000, -1000], [6000, -1000],
           [6000, 1000], [5000, 1000]], "heights": [1500], "spacing": 1000}])");
  written({"plan", put_beside("nests/east.json", scene), "-o", path("east-plan")});
}

void WrittenByTheProgram::write_faults() {
  written({"sight", path("none.json"), "--at", "1,2"});
  written({"check", path("none.json")});
  Json scene = Json::parse(got("wire/scene.json"));
  scene["features"][0]["centre"] = {0, 0, 0};
  scene["features"][0].erase("at");
  scene["bodies"][1]["mesh"] = "wires.stl";
  written({"check", put_beside("wire/wrong.json", scene)});
  written({"why", path("wire/scene.json"), "--station", "doors", "--feature", "block-tip"});
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

}  // namespace
}  // namespace standpoint
