#include "small_scenes.h"

#include "casting.h"
#include "furniture.h"
#include "instrument.h"
#include "rows.h"
#include "shape_files.h"

namespace standpoint::scenes {
namespace {

using std::filesystem::path;

const gp_Dir kUp(0, 0, 1);

Json scene_named(const char* name, const Json& bodies, const Json& styli, const Json& features,
                 const Json& places) {
  Json scene;
  scene["format"] = "standpoint-scene";
  scene["version"] = 1;
  scene["name"] = name;
  scene["units"] = "mm";
  scene["bodies"] = bodies;
  scene["instrument"] = instrument();
  scene["full_targets"] = Json::array({ball_38()});
  if (!styli.empty()) scene["offset_styli"] = styli;
  scene["features"] = features;
  scene["stations"] = {{"fixed", places}};
  return scene;
}

Json place(const char* name, const gp_Pnt& at) {
  return {{"name", name}, {"at", row_of(at.XYZ())}};
}

std::string outcome(bool written, const path& folder) {
  return written ? "" : "a file in " + folder.string() + " cannot be written";
}

}  // namespace

std::string make_wire_scene(const path& folder) {
  const double wire = 2, gap = 2.5;
  const gp_Pnt on_block(0, 0, 1000), door(0, -4000, 1019.05), gate(1500, -4000, 1300);
  FeatureRows features(gp_Vec(0, 0, 0));
  features.point("block-top", on_block, kUp, 0.5);

  // The wire hangs upright, half-way along the beam from the door, beside its axis (x = 0).
  const gp_Pnt wire_foot(gap + wire / 2, -2000, 0);
  const Json bodies =
      Json::array({body("block", "part", "block.step"), body("wire", "surroundings", "wire.stl")});
  const Json scene = scene_named("wire", bodies, Json::array(), features.rows(),
                                 Json::array({place("door", door), place("gate", gate)}));
  bool good = write_step(box(gp_Pnt(-200, -15, 600), gp_Pnt(200, 200, 1000)), "block",
                         {{"top", gp_Pnt(50, 50, 1000)}}, folder / "block.step");
  good = write_stl(cylinder(wire_foot, kUp, wire, 2200), 1, folder / "wire.stl") && good;
  return outcome(write_text(scene_text(scene), folder / "scene.json") && good, folder);
}

std::string make_dowel_scene(const path& folder) {
  const gp_Pnt dowel(-80, 0, 800), bolt(80, 0, 800), place_at(600, -2500, 1800);
  FeatureRows features(gp_Vec(0, 0, 0));
  features.hole("dowel", dowel, kUp, 5, 12, 0.2);
  features.hole("bolt", bolt, kUp, 22, 30, 0.2);
  Json& by_ball = features.hole("dowel-by-ball-alone", dowel, kUp, 5, 12, 0.2);
  by_ball["required"] = false;
  by_ball["targets"] = Json::array({"ball-38"});

  Casting plate;
  plate.add(box(gp_Pnt(-200, -120, 700), gp_Pnt(0, 120, 800)));
  plate.add(box(gp_Pnt(0, -120, 700), gp_Pnt(200, 120, 800)));
  plate.drill(dowel, kUp, 5, 12);
  plate.drill(bolt, kUp, 22, 30);
  const Json scene = scene_named("dowel", Json::array({body("plate", "part", "plate.step")}),
                                 Json::array({mirror_stylus()}), features.rows(),
                                 Json::array({place("bench", place_at)}));
  const bool good =
      write_step(plate.finish(), "plate", {{"top", gp_Pnt(0, 50, 800)}}, folder / "plate.step");
  return outcome(write_text(scene_text(scene), folder / "scene.json") && good, folder);
}

}  // namespace standpoint::scenes
