// What the program writes of parts, set-ups and faults.

#include <array>
#include <filesystem>
#include <sstream>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "io/write/json/features_json.h"
#include "tests/io/cli/ridge_scene.h"
#include "tests/io/read/cad_files.h"
#include "tests/io/write/written_by_the_program.h"

namespace standpoint {
namespace {

using schema_check::Json;

}  // namespace

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

}  // namespace standpoint
