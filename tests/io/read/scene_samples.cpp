#include "tests/io/read/scene_samples.h"

#include <algorithm>
#include <limits>

#include "io/words/units.h"

namespace standpoint::scene_samples {
namespace {

constexpr std::string_view kFull = R"json({
  "$schema": "../docs/scene.schema.json",
  "format": "standpoint-scene", "version": 1, "name": "all keys", "units": "mm",
  "chord_tolerance": 0.05, "include": ["hall.json"],
  "frames": [{"name": "drawing", "translate": [100, 200, 300], "rotate_xyz_deg": [0, 0, 90]}],
  "bodies": [
    {"name": "bedplate", "role": "part", "mesh": "bedplate.step"},
    {"name": "column", "role": "fixture", "mesh": "column.stl", "mesh_units": "m",
     "pose": {"translate": [1200, 10, -20], "rotate_xyz_deg": [90, 0, 90]}},
    {"name": "hall", "role": "surroundings", "mesh": "hall.obj", "mesh_units": "in", "pose": {}},
    {"name": "cabinet", "role": "fixture", "box": {"size": [400, 600, 1800]}, "frame": "drawing"},
    {"name": "post", "role": "fixture", "cylinder": {"diameter": 200, "height": 3000}},
    {"name": "ground", "role": "surroundings", "floor": {"size": [12000, 9000]}}
  ],
  "instrument": {
    "name": "invented instrument",
    "beam": {"diameter": 6, "growth_mrad": 0.2},
    "range": [400, 40000], "elevation": [-60, 75],
    "body": {"radius": 160, "above": 180, "below": 320},
    "error": {"coverage_factor": 3, "transverse": {"fixed": 0.014, "per_metre": 0.0075},
              "radial": {"fixed": 0.012, "per_metre": 0.0009}}
  },
  "full_targets": [
    {"name": "ball-38", "diameter": 38, "acceptance": 30, "aperture": 42},
    {"name": "ball-12", "diameter": 12, "acceptance": 25, "aperture": 40}
  ],
  "hole_adapters": [
    {"name": "pin-10", "hole_diameter": [9.95, 10.05], "target": "ball-38", "height": 30,
     "base_diameter": 32, "seat": 50}
  ],
  "offset_styli": [
    {"name": "mirror-6", "kind": "mirror", "tip_diameter": 6, "length": 85, "shank_diameter": 10,
     "head_diameter": 46, "swing": 11, "taper": 25, "error": 0.009},
    {"name": "rod-2", "kind": "two-ball", "tip_diameter": 6, "ball_distances": [150, 350],
     "ball_diameter": 12, "shank_diameter": 8, "acceptance": 35, "taper": 30, "error": 0.013}
  ],
  "features": [
    {"name": "pad", "type": "point", "at": [0, 0, 50], "normal": [0, 0, 2], "points": true, "tolerance": 0.5,
     "required": false, "split": true, "datum": true, "targets": ["ball-38", "rod-2"], "touches": {"count": 1, "at_least": 1}},
    {"name": "top", "type": "plane", "points": [[0, 0, 50], [500, 0, 50], [500, 400, 50], [0, 400, 50]],
     "normal": [0, 0, 1], "tolerance": 0.4, "required": true, "split": true, "datum": true, "targets": ["ball-12"],
     "touches": {"count": 4, "at_least": 3}},
    {"name": "dowel", "type": "hole", "centre": [80, 40, 50], "axis": [0, 3, 4], "diameter": 5,
     "depth": 12, "tolerance": 0.3, "required": true, "split": true, "datum": true, "targets": ["mirror-6"],
     "touches": {"count": 4, "at_least": 3}},
    {"name": "bore", "type": "cylinder", "centre": [250, 200, 50], "axis": [0, 0, 1], "diameter": 180,
     "length": 120, "side": "inside", "tolerance": 0.2, "required": true, "split": true, "datum": true, "targets": ["ball-38"],
     "touches": {"count": 12, "at_least": 8}},
    {"name": "boss", "type": "sphere", "centre": [400, 300, 90], "diameter": 60, "toward": [0, 0, 1],
     "tolerance": 0.1, "required": true, "split": true, "datum": true, "targets": ["ball-38"], "touches": {"count": 9, "at_least": 6}},
    {"name": "pin", "type": "cylinder", "centre": [50, 20, 80], "axis": [0, 0, 1], "diameter": 18,
     "length": 60, "side": "outside"},
    {"name": "framed-1", "type": "point", "frame": "drawing", "at": [0, 0, 50], "normal": [0, 0, 1]},
    {"name": "framed-2", "type": "plane", "frame": "drawing", "points": [[0, 0, 5], [5, 0, 5], [5, 4, 5]],
     "normal": [0, 0, 1]},
    {"name": "framed-3", "type": "hole", "frame": "drawing", "centre": [80, 40, 50], "axis": [0, 0, 1],
     "diameter": 5, "depth": 12},
    {"name": "framed-4", "type": "sphere", "frame": "drawing", "centre": [40, 30, 9], "diameter": 6,
     "toward": [0, 0, 1]},
    {"name": "framed-5", "type": "cylinder", "frame": "drawing", "centre": [50, 20, 80],
     "axis": [0, 0, 1], "diameter": 18, "length": 60, "side": "outside"},
    {"name": "edge", "type": "line", "from": [0, 0, 50], "to": [500, 0, 50], "normal": [1, 0, 1],
     "tolerance": 0.2, "required": true, "split": true, "datum": true, "targets": ["ball-38"], "touches": {"count": 6, "at_least": 3}},
    {"name": "taper", "type": "cone", "centre": [250, 200, 50], "axis": [0, 0, -1], "diameter": 60,
     "angle": 40, "length": 30, "side": "inside", "tolerance": 0.2, "required": true, "split": true, "datum": true,
     "targets": ["ball-38"], "touches": {"count": 9, "at_least": 7}},
    {"name": "keyway", "type": "slot", "centre": [300, 40, 50], "axis": [0, 0, 2], "along": [3, 0, 1],
     "width": 14, "length": 40, "depth": 12, "tolerance": 0.2, "required": true, "split": true, "datum": true,
     "targets": ["mirror-6"], "touches": {"count": 8, "at_least": 6}},
    {"name": "skin", "type": "surface", "body": "cabinet", "inside": {"box": [[-1000, -1000, 0], [1000, 1000, 5000]]},
     "spacing": 900, "share": 0.8, "tolerance": 0.2, "required": true, "split": true, "datum": true, "targets": ["ball-38"],
     "touches": {"at_least": 3}},
    {"name": "framed-6", "type": "line", "frame": "drawing", "from": [0, 0, 5], "to": [5, 0, 5],
     "normal": [0, 0, 1]},
    {"name": "framed-7", "type": "cone", "frame": "drawing", "centre": [50, 20, 80], "axis": [0, 0, 1],
     "diameter": 18, "angle": 20, "length": 30, "side": "outside"},
    {"name": "framed-8", "type": "slot", "frame": "drawing", "centre": [50, 20, 80], "axis": [0, 0, 1],
     "along": [0, 1, 0], "width": 8, "length": 30, "depth": 5},
    {"name": "framed-9", "type": "surface", "frame": "drawing", "body": "cabinet", "faces": [2],
     "spacing": 300},
    {"name": "lid", "type": "surface", "body": "cabinet",
     "polygon": [[-1000, -1000], [1000, -1000], [1000, 1000], [-1000, 1000]], "spacing": 400}
  ],
  "feature_lists": [{"file": "points.csv", "frame": "drawing", "units": "in"}],
  "nests": [
    {"name": "N1", "at": [2000, -500, 300], "normal": [0, 0, 1], "seat": 45},
    {"name": "N2", "at": [-2000, -500, 300], "normal": [0, 1, 0], "seat": 40},
    {"name": "N3", "at": [0, 400, 300], "normal": [0, 1, 0], "seat": 40, "frame": "drawing"}
  ],
  "nest_lists": [{"file": "pins.csv", "frame": "drawing", "units": "cm"}],
  "nest_sites": [{"name": "site-1", "at": [0, 3000, 300], "normal": [0, 0, 1], "seat": 45}],
  "nest_surfaces": [
    {"body": "hall", "polygon": [[0, 0], [1000, 0], [1000, 800], [0, 800]], "spacing": 200}
  ],
  "datum": ["N1", "site-1", "top"],
  "alignment": {"choose": 6, "from": ["top", "dowel", "bore", "edge"], "form": 0.01},
  "stations": {
    "fixed": [{"name": "door", "at": [3000, -2500, 1400], "keep": true, "cost": 2.5,
               "instrument_up": [0, 3, 4]},
              {"name": "beam", "at": [0, 0, 6000], "instrument_ups": [[0, 0, -2], [0, 0, 1]]}],
    "zones": [{"name": "south aisle", "floor": -10,
               "polygon": [[-1000, -4000], [5000, -4000], [5000, -2000], [-1000, -2000]],
               "holes": [[[0, -3500], [800, -3500], [800, -2500]]],
               "heights": [1100, 1500], "spacing": 500, "cost": 0.5, "instrument_up": [0, 0, 1]},
              {"name": "ledge", "polygon": [[0, 0], [900, 0], [900, 200]], "heights": [300],
               "spacing": 100, "instrument_ups": [[1, 0, 0], [0, 0, 1]]}],
    "keep_out": [{"name": "pit", "polygon": [[0, -3000], [900, -3000], [900, -2400]]}]
  },
  "walkways": [{"name": "gangway", "floor": 5, "polygon": [[0, 5000], [9000, 5000], [9000, 7000]]}],
  "rules": {"min_margin": 1, "tight_margin": 6, "fit_tolerance": 0.3, "stations_per_feature": 2,
            "split_features": true, "shared_nests": 4, "ties_by_stylus": true, "rim_contact": [25, 70], "max_expanded": 0.08},
  "room": {"part_temperature": 24, "part_temperature_error": 0.5, "expansion": 1.15e-5,
           "expansion_error": 1e-6, "air_temperature": 22, "air_temperature_error": 0.6,
           "air_pressure": 100500, "air_pressure_error": 150, "humidity": 0.45, "humidity_error": 0.1,
           "wavelength_um": 0.65, "gradient_error": 0.4, "nest_repeatability": 0.003}
})json";

constexpr std::string_view kLeast = R"json({
  "format": "standpoint-scene", "version": 1, "units": "mm",
  "instrument": {"beam": {"diameter": 6}, "range": [400, 40000], "elevation": [-60, 75]}
})json";

/// What the full scene includes. It has what a scene needs, so that the full scene may lack it.
constexpr std::string_view kHall = R"json({
  "format": "standpoint-scene", "version": 1, "units": "m",
  "instrument": {"beam": {"diameter": 0.005}, "range": [1, 20], "elevation": [-45, 45]}
})json";

tl::expected<std::string, Faults> included_text(const std::filesystem::path& file,
                                                std::string_view thing) {
  if (file.filename() == "hall.json") return std::string(kHall);
  return tl::unexpected(
      Faults{{file.string(), "", std::string(thing), FaultKind::file_unreadable, ""}});
}

Faults no_such_list(const ListRequest& request) {
  return {{request.shown, "", "a list that can be read", FaultKind::file_unreadable, ""}};
}

double mm_per_unit_of(const ListRequest& request) {
  const std::string& units = request.units ? *request.units : request.default_units;
  const auto name = std::find(kUnitNames.begin(), kUnitNames.end(), units);
  return kMmPerUnit.at(static_cast<std::size_t>(name - kUnitNames.begin()));
}

tl::expected<ReadList<Feature>, Faults> listed_features(const ListRequest& request) {
  if (request.file.filename() != "points.csv") return tl::unexpected(no_such_list(request));
  ReadList<Feature> list;
  for (const double x : {1.0, 2.0}) {
    list.entries.push_back({"p" + std::to_string(list.entries.size() + 1),
                            PointFeature{Vec3(x, 0, 0) * mm_per_unit_of(request), Vec3::UnitX()}});
    list.places.push_back(request.shown + ":" + std::to_string(list.entries.size() + 1));
  }
  return list;
}

tl::expected<ReadList<Nest>, Faults> listed_nests(const ListRequest& request) {
  if (request.file.filename() != "pins.csv") return tl::unexpected(no_such_list(request));
  return ReadList<Nest>{{{"P1", Vec3(0, 3, 0) * mm_per_unit_of(request), Vec3::UnitY(), 0.5}},
                        {request.shown + ":2"}};
}

}  // namespace

SceneSources stand_ins() {
  return {load_stand_in, listed_features, listed_nests, included_text};
}

const Json& full_scene() {
  static const Json scene = Json::parse(kFull);
  return scene;
}

const Json& least_scene() {
  static const Json scene = Json::parse(kLeast);
  return scene;
}

tl::expected<ReadBody, std::string> load_stand_in(const BodyRequest& request) {
  const std::string file = request.file.filename().string();
  if (file == "missing.stl") return tl::unexpected(std::string("there is no such file"));
  ReadBody body;
  body.mesh.vertices = {Vec3(0, 0, 0), Vec3(1, 0, 0), Vec3(0, 1, 0)};
  body.mesh.triangles = {{0, 1, 2}};
  const double mm = request.mm_per_unit.value_or(request.default_mm_per_unit);
  for (Vec3& vertex : body.mesh.vertices) vertex = request.world_from_body * (vertex * mm);
  if (file == "broken.stl") {
    body.mesh.vertices[0].x() = std::numeric_limits<double>::quiet_NaN();
    body.mesh.vertices[2].z() = std::numeric_limits<double>::infinity();
  }
  body.report.format = file;
  body.report.mm_per_unit = mm;
  return body;
}

tl::expected<SceneFile, Faults> parse(const std::string& text) {
  return parse_scene(text, "cell/cell-file.json", stand_ins());
}

tl::expected<SceneFile, Faults> parse(const Json& scene) {
  return parse(scene.dump());
}

std::string listed(const Faults& faults) {
  std::string text;
  for (const Fault& fault : faults) {
    text += std::string(fault_word(fault.kind)) + " at " + fault.where + ": " + fault.value +
            " | " + fault.allowed + " | " + fault.nearest + "\n";
  }
  return text;
}

std::string listed(const tl::expected<SceneFile, Faults>& result) {
  return result ? "no faults" : listed(result.error());
}

}  // namespace standpoint::scene_samples
