#include "around.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>
#include <BRepBndLib.hxx>
#include <Bnd_Box.hxx>
#include <STEPControl_Reader.hxx>

#include "cad_features.h"
#include "exposure.h"
#include "furniture.h"
#include "instrument.h"
#include "shape_files.h"

namespace standpoint::scenes {
namespace {

using std::filesystem::path;

constexpr double kRaised = 600;  ///< lowest point of the part above the floor, mm
constexpr double kAisle = 1500;  ///< between the part's bounds and where one may stand
constexpr double kHeights[] = {1500, 3200};

/// The room that the part takes up, in its own frame.
struct Room {
  gp_XYZ low, high;
};

Room room_of(const TopoDS_Shape& shape) {
  Bnd_Box bounds;
  BRepBndLib::AddOptimal(shape, bounds, false, false);
  return {bounds.CornerMin().XYZ(), bounds.CornerMax().XYZ()};
}

/// Half the width of the zone in the middle of the part, where one may stand inside a ring.
constexpr double kInside = 500;

/// Tells which places on the part can be seen, past the part itself, from the floor round it or
/// from its middle.
class Outlook {
 public:
  Outlook(const TopoDS_Shape& shape, const Room& room) : exposure_(shape) {
    const gp_XYZ middle = (room.low + room.high) / 2;
    const double floor = room.low.Z() - kRaised;
    const double reach =
        std::max(room.high.X() - middle.X(), room.high.Y() - middle.Y()) + kAisle + 1000;
    for (int i = 0; i < 8; ++i) {
      const double angle = std::numbers::pi * (0.25 * i + 0.1);
      for (const double height : kHeights) {
        places_.emplace_back(middle.X() + reach * std::cos(angle),
                             middle.Y() + reach * std::sin(angle), floor + height);
      }
    }
    places_.emplace_back(middle.X(), middle.Y(), floor + kHeights[0]);
  }

  /// Whether a ball that touches at `p` is seen from somewhere, not too much from the side.
  [[nodiscard]] bool sees(const FacePoint& p) const {
    const gp_Pnt centre = p.at.Translated(gp_Vec(p.normal) * 19.05);
    return std::any_of(places_.begin(), places_.end(), [&](const gp_Pnt& place) {
      const gp_Vec to_place(centre, place);
      return to_place.Normalized().Dot(gp_Vec(p.normal)) > 0.1 && exposure_.is_free(centre, place);
    });
  }

 private:
  Exposure exposure_;
  std::vector<gp_Pnt> places_;
};

std::vector<std::vector<FacePoint>> by_face(const std::vector<FacePoint>& points) {
  std::vector<std::vector<FacePoint>> faces;
  for (const FacePoint& p : points) {
    if (faces.empty() || faces.back()[0].face != p.face) faces.emplace_back();
    faces.back().push_back(p);
  }
  return faces;
}

/// One plane through up to six places of a flat face.
void add_plane(const std::vector<FacePoint>& places, FeatureRows& rows) {
  const bool is_flat = std::all_of(places.begin(), places.end(), [&](const FacePoint& p) {
    return p.normal.IsParallel(places[0].normal, 1e-6);
  });
  if (!is_flat || places.size() < 6) return;
  std::vector<gp_Pnt> at;
  for (std::size_t k = 0; k < 6; ++k) at.push_back(places[k * places.size() / 6].at);
  rows.plane(fmt::format("plane-{}", places[0].face + 1), at, places[0].normal, 1.0);
}

void add_rounds(const CadFeatures& found, FeatureRows& rows) {
  int number = 0;
  for (const RoundFeature& r : found.rounds) {
    // A boss of metres is never seen all round from one place.
    rows.cylinder(fmt::format("round-{}", ++number), r.centre, r.axis, r.diameter, r.length,
                  r.inside ? "inside" : "outside", 1.0)["required"] = r.inside || r.diameter < 1000;
  }
  number = 0;
  for (const HoleInPlane& h : found.holes) {
    if (h.diameter > 200) continue;
    rows.hole(fmt::format("hole-{}", ++number), h.centre, h.axis, h.diameter, h.depth, 1.0);
  }
}

/// Walks through the faces in leaps, so that the choice is spread over the whole part. Returns how
/// many of the rows are hidden places.
std::size_t choose(const CadFeatures& found, const Outlook& outlook, std::size_t wanted,
                   FeatureRows& rows) {
  const std::vector<std::vector<FacePoint>> faces = by_face(found.points);
  constexpr std::size_t kLeap = 1009;  // a prime: every face comes up once
  const std::size_t most_hidden = wanted / 25;
  std::size_t hidden = 0;
  for (std::size_t k = 0; k < faces.size() && rows.rows().size() < wanted; ++k) {
    std::vector<FacePoint> seen;
    for (const FacePoint& p : faces[k * kLeap % faces.size()]) {
      if (outlook.sees(p)) {
        seen.push_back(p);
      } else if (hidden < most_hidden && seen.empty()) {
        rows.point(fmt::format("hidden-{}", ++hidden), p.at, p.normal, 1.0)["required"] = false;
      }
    }
    if (seen.empty()) continue;
    for (std::size_t i = 0; i < seen.size(); ++i) {
      rows.point(fmt::format("face-{}-{}", seen[i].face + 1, i + 1), seen[i].at, seen[i].normal,
                 1.0);
    }
    add_plane(seen, rows);
  }
  return hidden;
}

Json zone(const std::string& name, const Json& polygon) {
  return {{"name", name},
          {"floor", 0},
          {"polygon", polygon},
          {"heights", {kHeights[0], kHeights[1]}},
          {"spacing", 600}};
}

Json zones_round(const Room& room) {
  const double x0 = room.low.X() - kAisle, x1 = room.high.X() + kAisle;
  const double y0 = room.low.Y() - kAisle, y1 = room.high.Y() + kAisle, depth = 2000;
  const double x_middle = (x0 + x1) / 2, y_middle = (y0 + y1) / 2;
  return Json::array({zone("south", rectangle(x0, y0 - depth, x1, y0)),
                      zone("north", rectangle(x0, y1, x1, y1 + depth)),
                      zone("west", rectangle(x0 - depth, y0, x0, y1)),
                      zone("middle", rectangle(x_middle - kInside, y_middle - kInside,
                                               x_middle + kInside, y_middle + kInside)),
                      zone("east", rectangle(x1, y0, x1 + depth, y1))});
}

/// Twelve posts round the part, in four heights.
void add_posts(const Room& room, Json& bodies, Json& nests) {
  const gp_XYZ middle = (room.low + room.high) / 2;
  const double reach = std::max(room.high.X() - middle.X(), room.high.Y() - middle.Y()) + 900;
  for (int i = 0; i < 12; ++i) {
    const double angle = std::numbers::pi * i / 6;
    const double x = tidy(middle.X() + reach * std::cos(angle));
    const double y = tidy(middle.Y() + reach * std::sin(angle));
    const int kind = i % 4;
    const std::string name = fmt::format("post-{}", i + 1);
    bodies.push_back(stl_body(name, "fixture", fmt::format("post-{}.stl", kind), pose(x, y, 0)));
    nests.push_back(
        nest(fmt::format("N{}", i + 1), gp_Pnt(x, y, 800 + 600 * kind), gp_Dir(0, 0, 1)));
  }
  // Four below the roof: seen from outside and, through the part's opening, from its middle.
  for (int i = 0; i < 4; ++i) {
    const double angle = std::numbers::pi * (0.5 * i + 0.25);
    const double away = 0.85 * (reach - 900);
    nests.push_back(nest(fmt::format("roof-{}", i + 1),
                         gp_Pnt(tidy(middle.X() + away * std::cos(angle)),
                                tidy(middle.Y() + away * std::sin(angle)), 9500),
                         gp_Dir(0, 0, -1)));
  }
}

Json scene_of(const path& mesh, const Room& room, const Json& features) {
  Json part = body("part", "part", mesh.generic_string());
  part["pose"] = pose(0, 0, tidy(kRaised - room.low.Z()));
  Json bodies = Json::array({part}), nests = Json::array();
  add_posts(room, bodies, nests);
  Json scene;
  scene["format"] = "standpoint-scene";
  scene["version"] = 1;
  scene["name"] = "around";
  scene["units"] = "mm";
  scene["chord_tolerance"] = 0.5;
  scene["bodies"] = bodies;
  scene["instrument"] = instrument();
  scene["full_targets"] = Json::array({ball_38()});
  scene["offset_styli"] = Json::array({mirror_stylus()});
  scene["features"] = features;
  scene["nests"] = nests;
  scene["stations"] = {{"zones", zones_round(room)}};
  scene["rules"] = {{"fit_tolerance", 0.8}};
  return scene;
}

}  // namespace

AroundScene make_scene_around(const path& step, const path& folder, std::size_t wanted) {
  STEPControl_Reader reader;
  if (reader.ReadFile(step.string().c_str()) != IFSelect_RetDone || reader.TransferRoots() == 0) {
    return {step.string() + " cannot be read"};
  }
  const TopoDS_Shape shape = reader.OneShape();
  const Room room = room_of(shape);
  const CadFeatures found = find_features(shape);
  FeatureRows rows(gp_Vec(0, 0, kRaised - room.low.Z()));
  AroundScene made;
  made.hidden = choose(found, Outlook(shape, room), wanted, rows);
  add_rounds(found, rows);
  made.features = rows.rows().size();

  bool good = true;
  for (int kind = 0; kind < 4; ++kind) {
    good =
        write_stl(nest_post(800 + 600 * kind), 0.001, folder / fmt::format("post-{}.stl", kind)) &&
        good;
  }
  const path mesh = std::filesystem::proximate(step, folder);
  good = write_text(scene_text(scene_of(mesh, room, rows.rows())), folder / "scene.json") && good;
  if (!good) made.failed = "a file in " + folder.string() + " cannot be written";
  return made;
}

}  // namespace standpoint::scenes
