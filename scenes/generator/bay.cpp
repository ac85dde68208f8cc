#include "bay.h"

#include <fmt/format.h>

#include "bedplate.h"
#include "casting.h"
#include "furniture.h"
#include "instrument.h"

namespace standpoint::scenes {
namespace {

using std::filesystem::path;

// Scene frame, mm: origin on the floor below the middle of the bedplate, x toward its drive end.
constexpr double kColumn = 300, kColumnX = 3300, kColumnY = 2300;

const gp_Dir kUp(0, 0, 1);

struct Corner {
  const char* name;
  double x, y;  ///< signs
};
constexpr Corner kCorners[] = {
    {"southwest", -1, -1}, {"southeast", 1, -1}, {"northeast", 1, 1}, {"northwest", -1, 1}};

/// The heights of the four posts differ, so that no three nests are near one line.
constexpr double kPostHeights[] = {900, 1250, 700, 1100};
constexpr double kPostX = 2750, kPostY = 1900;

std::string post_file(std::size_t i) {
  return fmt::format("post-{}.stl", kCorners[i].name);
}

Json bodies() {
  Json rows = Json::array();
  Json part = body("bedplate", "part", "bedplate.step");
  part["pose"] = pose(0, 0, kUndersideHeight);
  rows.push_back(part);
  int number = 0;
  for (const gp_Pnt& foot : bedplate_feet()) {
    Json row = body(fmt::format("stand-{}", ++number), "fixture", "stand.step");
    row["pose"] = pose(foot.X(), foot.Y(), 0);
    rows.push_back(row);
  }
  for (std::size_t i = 0; i < std::size(kCorners); ++i) {
    const Corner& c = kCorners[i];
    rows.push_back(stl_body(std::string("post-") + c.name, "fixture", post_file(i),
                            pose(c.x * kPostX, c.y * kPostY, 0)));
    rows.push_back(stl_body(std::string("column-") + c.name, "surroundings", "column.stl",
                            pose(c.x * kColumnX, c.y * kColumnY, 0)));
  }
  Json turned = pose(-1900, -3300, 0);
  turned["rotate_xyz_deg"] = {0, 0, 90};
  rows.push_back(stl_body("control-cabinet", "surroundings", "cabinet.stl", turned));
  rows.push_back(stl_body("guard-fence", "surroundings", "fence.stl", pose(-800, 2300, 0)));
  rows.push_back(stl_body("floor", "surroundings", "floor.stl", pose(0, 0, 0)));
  return rows;
}

Json nests() {
  Json rows = Json::array();
  int number = 0;
  const auto add = [&](const gp_Pnt& at, const gp_Dir& normal) {
    rows.push_back(nest(fmt::format("N{}", ++number), at, normal));
  };
  for (std::size_t i = 0; i < std::size(kCorners); ++i) {
    add(gp_Pnt(kCorners[i].x * kPostX, kCorners[i].y * kPostY, kPostHeights[i]), kUp);
  }
  // On the columns' faces toward the part; the ball stands off by its seat and a magnet of 15 mm.
  for (const Corner& c : kCorners) {
    const double off = kColumn / 2 + 15 + kSeatDepth;
    add(gp_Pnt(c.x * kColumnX, c.y * (kColumnY - off), c.x * c.y > 0 ? 2600 : 1800),
        gp_Dir(0, -c.y, 0));
  }
  // Glued to the bedplate: on both crowns, and on the slab.
  const double glued = 12 + kSeatDepth;
  add(gp_Pnt(1340, 0, kUndersideHeight + 1100 + glued), kUp);
  add(gp_Pnt(-900, 0, kUndersideHeight + 1000 + glued), kUp);
  return rows;
}

Json zone(const char* name, Json polygon) {
  return {{"name", name},
          {"floor", 0},
          {"polygon", std::move(polygon)},
          {"heights", {1300, 2000}},
          {"spacing", 500}};
}

Json zones() {
  return Json::array({zone("south aisle", rectangle(-3000, -4000, 3000, -2800)),
                      zone("north aisle", rectangle(-3000, 2800, 3000, 4000)),
                      zone("east end", rectangle(3000, -1500, 4500, 1500)),
                      zone("west end", rectangle(-4500, -1500, -3000, 1500))});
}

Json walkways() {
  return Json::array({Json{{"name", "south walkway"},
                           {"floor", 0},
                           {"polygon", rectangle(-6500, -5600, 6500, -4500)}},
                      Json{{"name", "east gangway"},
                           {"floor", 0},
                           {"polygon", rectangle(1950, -1000, 2550, 4500)}}});
}

Json scene_of(const Json& features) {
  Json scene;
  scene["format"] = "standpoint-scene";
  scene["version"] = 1;
  scene["name"] = "demo";
  scene["units"] = "mm";
  scene["bodies"] = bodies();
  scene["instrument"] = instrument();
  scene["full_targets"] = Json::array({ball_38()});
  scene["offset_styli"] = Json::array({mirror_stylus(), two_ball_rod()});
  scene["features"] = features;
  scene["nests"] = nests();
  scene["stations"] = {{"zones", zones()}};
  scene["walkways"] = walkways();
  scene["rules"] = {{"min_margin", 1},           {"tight_margin", 5}, {"fit_tolerance", 0.2},
                    {"stations_per_feature", 1}, {"shared_nests", 3}, {"rim_contact", {20, 75}}};
  return scene;
}

bool write_furniture(const path& folder) {
  constexpr double kMetresPerMm = 0.001;
  bool good = write_step(stand(kUndersideHeight), "stand", {}, folder / "stand.step");
  for (std::size_t i = 0; i < std::size(kCorners); ++i) {
    good = write_stl(nest_post(kPostHeights[i]), kMetresPerMm, folder / post_file(i)) && good;
  }
  const double half = kColumn / 2;
  good = write_stl(box(gp_Pnt(-half, -half, 0), gp_Pnt(half, half, 5000)), kMetresPerMm,
                   folder / "column.stl") &&
         good;
  good = write_stl(box(gp_Pnt(-300, -400, 100), gp_Pnt(300, 400, 2000)), kMetresPerMm,
                   folder / "cabinet.stl") &&
         good;
  good = write_stl(fence(3600), kMetresPerMm, folder / "fence.stl") && good;
  return write_stl(box(gp_Pnt(-7000, -6000, -100), gp_Pnt(7000, 6000, 0)), kMetresPerMm,
                   folder / "floor.stl") &&
         good;
}

}  // namespace

std::string make_demo(const path& folder) {
  FeatureRows features(gp_Vec(0, 0, kUndersideHeight));
  const Part part = make_bedplate(features);
  if (part.shape.IsNull()) return "the bedplate cannot be shaped";
  if (!write_step(part.shape, "bedplate", part.faces, folder / "bedplate.step")) {
    return "bedplate.step cannot be written, or a face that should be named is not there";
  }
  if (!write_furniture(folder) ||
      !write_text(scene_text(scene_of(features.rows())), folder / "scene.json")) {
    return "a file in " + folder.string() + " cannot be written";
  }
  return "";
}

}  // namespace standpoint::scenes
