#include "bedplate.h"

#include <cmath>
#include <numbers>

#include <fmt/format.h>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakePolygon.hxx>
#include <BRepPrimAPI_MakePrism.hxx>

#include "casting.h"

namespace standpoint::scenes {
namespace {

// All numbers are mm in the part's frame. Tolerances are full widths of zones.
constexpr double kHalfLength = 1800, kHalfWidth = 1000, kSlab = 300, kCorner = 160;
constexpr double kDowel = 5, kDowelDepth = 14;

const gp_Dir kUp(0, 0, 1), kDown(0, 0, -1), kEast(1, 0, 0), kWest(-1, 0, 0), kNorth(0, 1, 0),
    kSouth(0, -1, 0);

double degrees(double angle) {
  return angle * std::numbers::pi / 180;
}

/// Makes the solid, its features and the names of its faces together, region by region.
class Bedplate {
 public:
  explicit Bedplate(FeatureRows& features) : features_(features) {}

  Part make() {
    slab();
    corners();
    trunnions();
    drive_end();
    tail_end();
    flange();
    pads();
    pocket();
    pins_and_balls();
    underside();
    return {casting_.finish(), faces_};
  }

 private:
  void face(const std::string& name, const gp_Pnt& on_face) { faces_.push_back({name, on_face}); }

  Json& plane(const std::string& name, const std::vector<gp_Pnt>& points, const gp_Dir& normal,
              double tolerance) {
    face(name, points[0]);
    return features_.plane(name, points, normal, tolerance);
  }

  Json& hole(const std::string& name, const gp_Pnt& centre, const gp_Dir& axis, double diameter,
             double depth, double tolerance) {
    casting_.drill(centre, axis, diameter, depth);
    return features_.hole(name, centre, axis, diameter, depth, tolerance);
  }

  /// Too small for the ball. Its place matters, so that the rod, which extrapolates, is not to be
  /// used.
  Json& dowel(const std::string& name, const gp_Pnt& centre, const gp_Dir& axis) {
    Json& row = hole(name, centre, axis, kDowel, kDowelDepth, 0.4);
    row["targets"] = Json::array({"mirror-6"});
    return row;
  }

  void slab() {
    casting_.add(rounded_box(gp_Pnt(-kHalfLength, -kHalfWidth, 0),
                             gp_Pnt(kHalfLength, kHalfWidth, kSlab), kCorner));
    plane("slab-top",
          {{-600, -850, kSlab},
           {900, -900, kSlab},
           {1650, 150, kSlab},
           {900, 900, kSlab},
           {-600, 850, kSlab},
           {-1700, 150, kSlab}},
          kUp, 0.8);
    plane("side-south",
          {{-1500, -kHalfWidth, 60},
           {1500, -kHalfWidth, 60},
           {1500, -kHalfWidth, 240},
           {0, -kHalfWidth, 240},
           {-1500, -kHalfWidth, 240}},
          kSouth, 0.6);
    plane("side-north",
          {{-1500, kHalfWidth, 60},
           {1500, kHalfWidth, 60},
           {1500, kHalfWidth, 240},
           {0, kHalfWidth, 240},
           {-1500, kHalfWidth, 240}},
          kNorth, 0.6);
    plane("end-east",
          {{kHalfLength, -700, 60},
           {kHalfLength, 700, 60},
           {kHalfLength, 700, 240},
           {kHalfLength, -700, 240}},
          kEast, 0.6);
    plane("end-west",
          {{-kHalfLength, -700, 60},
           {-kHalfLength, 700, 60},
           {-kHalfLength, 700, 240},
           {-kHalfLength, -700, 240}},
          kWest, 0.6);
  }

  void corners() {
    for (const double x : {-1.0, 1.0}) {
      for (const double y : {-1.0, 1.0}) {
        const std::string side =
            fmt::format("{}{}", y < 0 ? "south" : "north", x < 0 ? "west" : "east");
        const gp_Pnt centre(x * (kHalfLength - kCorner), y * (kHalfWidth - kCorner), kSlab);
        const gp_Dir out(x, y, 0);
        const gp_Pnt on_face = centre.Translated(gp_Vec(out) * kCorner - gp_Vec(0, 0, kSlab / 2));
        features_.point("corner-" + side, on_face, out, 0.8);
        face("corner-" + side, on_face);
        // Through the slab; larger than the ball, so that it is measured on its wall.
        casting_.drill(centre, kUp, 60, kSlab + 1);
        features_.hole("anchor-" + side, centre, kUp, 60, kSlab, 0.5);
      }
    }
  }

  void trunnions() {
    const double diameter = 180, length = 100;
    for (const double x : {-1100.0, 1100.0}) {
      for (const double y : {-1.0, 1.0}) {
        const gp_Dir out(0, y, 0);
        const gp_Pnt root(x, y * kHalfWidth, kSlab / 2);
        const std::string name =
            fmt::format("trunnion-{}{}", y < 0 ? "south" : "north", x < 0 ? "west" : "east");
        // It starts inside the slab, so that the two grow together over a volume.
        casting_.add(cylinder(root.Translated(gp_Vec(out) * -50), out, diameter, length + 50));
        features_.cylinder(name, root.Translated(gp_Vec(out) * (length / 2)), out, diameter, length,
                           "outside", 0.5);
        face(name, root.Translated(gp_Vec(out) * (length / 2) + gp_Vec(0, 0, diameter / 2)));
      }
    }
  }

  /// A bearing housing: a block with a half-round crown, bored along x.
  void housing(const std::string& name, double from_x, double to_x, double half_width,
               double bore_diameter, double tolerance) {
    const double axis_height = 700, length = to_x - from_x, middle = (from_x + to_x) / 2;
    casting_.add(
        box(gp_Pnt(from_x, -half_width, kSlab - 50), gp_Pnt(to_x, half_width, axis_height)));
    casting_.add(cylinder(gp_Pnt(from_x, 0, axis_height), kEast, 2 * half_width, length));
    casting_.drill(gp_Pnt(to_x, 0, axis_height), kEast, bore_diameter, length + 1);
    features_.cylinder(name + "-bore", gp_Pnt(middle, 0, axis_height), kEast, bore_diameter, length,
                       "inside", tolerance);
    face(name + "-bore", gp_Pnt(middle, 0, axis_height + bore_diameter / 2));
    for (const double angle : {-50.0, 0.0, 50.0}) {
      const gp_Dir out(0, std::sin(degrees(angle)), std::cos(degrees(angle)));
      const char* where = angle < 0 ? "south" : angle > 0 ? "north" : "top";
      const gp_Pnt at = gp_Pnt(middle, 0, axis_height).Translated(gp_Vec(out) * half_width);
      features_.point(fmt::format("{}-crown-{}", name, where), at, out, 0.8);
      if (angle == 0) face(name + "-crown", at);
    }
  }

  /// Points on a ring about (x, 0, 700) in a face square to x.
  static std::vector<gp_Pnt> ring(double x, double radius, int count, double first_degrees) {
    std::vector<gp_Pnt> points;
    for (int i = 0; i < count; ++i) {
      const double a = degrees(first_degrees + 360.0 * i / count);
      points.emplace_back(x, radius * std::sin(a), 700 + radius * std::cos(a));
    }
    return points;
  }

  void drive_end() {
    const double from = 1000, to = 1450;
    housing("drive", from, to, 400, 620, 0.3);
    plane("drive-face", ring(to, 355, 6, 30), kEast, 0.4);
    plane("drive-shoulder", ring(from, 355, 6, 30), kWest, 0.5);
    // A crown is half round: below its axis the block is square, so the bolts go all round.
    const std::vector<gp_Pnt> bolts = ring(to, 355, 4, 45);
    for (std::size_t i = 0; i < bolts.size(); ++i) {
      hole(fmt::format("drive-bolt-{}", i + 1), bolts[i], kEast, 24, 60, 0.6);
    }
    dowel("drive-dowel-1", ring(to, 355, 1, 110)[0], kEast);
    dowel("drive-dowel-2", ring(to, 355, 1, 290)[0], kEast);
    for (const double y : {-330.0, 330.0}) gusset(from, y);
  }

  /// A triangular rib on the west side of the drive end.
  void gusset(double x, double y) {
    const double half_thickness = 30, reach = 340, height = 330;
    BRepBuilderAPI_MakePolygon outline;
    outline.Add(gp_Pnt(x + 20, y - half_thickness, kSlab - 20));
    outline.Add(gp_Pnt(x - reach, y - half_thickness, kSlab - 20));
    outline.Add(gp_Pnt(x + 20, y - half_thickness, kSlab + height));
    outline.Close();
    const TopoDS_Face side = BRepBuilderAPI_MakeFace(outline.Wire()).Face();
    casting_.add(BRepPrimAPI_MakePrism(side, gp_Vec(0, 2 * half_thickness, 0)).Shape());
  }

  void tail_end() {
    const double from = -1000, to = -650;
    housing("tail", from, to, 300, 400, 0.4);
    plane("tail-face", ring(from, 250, 6, 30), kWest, 0.5);
    plane("tail-shoulder", ring(to, 250, 6, 30), kEast, 0.5);
  }

  void flange() {
    // The bore's land is as deep as the flange; below it the bore is relieved.
    const double x = 150, top = 420, bore = 460, land = 120, pitch = 295;
    const gp_Pnt middle(x, 0, top);
    casting_.add(cylinder(gp_Pnt(x, 0, kSlab - 50), kUp, 720, top - kSlab + 50));
    casting_.drill(middle, kUp, bore, land + 10);
    casting_.drill(gp_Pnt(x, 0, top - land - 1), kUp, 500, top - land + 1);
    features_.cylinder("yaw-bore", gp_Pnt(x, 0, top - land / 2), kUp, bore, land, "inside", 0.6);
    face("yaw-bore", gp_Pnt(x + bore / 2, 0, top - land / 2));
    face("flange-rim", gp_Pnt(x + 360, 0, top - 60));
    const auto on_ring = [&](double radius, double angle) {
      return middle.Translated(
          gp_Vec(radius * std::cos(degrees(angle)), radius * std::sin(degrees(angle)), 0));
    };
    std::vector<gp_Pnt> seats;  // half-way between the bolts
    for (int i = 0; i < 8; ++i) seats.push_back(on_ring(pitch, 22.5 + 45 * i));
    plane("flange-face", seats, kUp, 0.4);
    for (int i = 0; i < 8; ++i) {
      hole(fmt::format("flange-bolt-{}", i + 1), on_ring(pitch, 45 * i), kUp, 22, 45, 0.6);
    }
    dowel("flange-dowel-1", on_ring(335, 100), kUp);
    dowel("flange-dowel-2", on_ring(335, 280), kUp);
  }

  void pads() {
    const double top = kSlab + 40;
    int number = 0;
    for (const double x : {-250.0, 640.0}) {
      for (const double y : {-720.0, 720.0}) {
        const std::string name = fmt::format("pad-{}", ++number);
        casting_.add(box(gp_Pnt(x - 150, y - 100, kSlab - 20), gp_Pnt(x + 150, y + 100, top)));
        plane(name,
              {{x - 120, y - 75, top},
               {x + 120, y - 75, top},
               {x + 120, y + 75, top},
               {x - 120, y + 75, top}},
              kUp, 0.4);
        hole(name + "-bolt", gp_Pnt(x, y, top), kUp, 26, 80, 0.6);
        dowel(name + "-dowel-1", gp_Pnt(x - 105, y + 40, top), kUp);
        dowel(name + "-dowel-2", gp_Pnt(x + 105, y - 40, top), kUp);
      }
    }
  }

  void pocket() {
    const double west = -1600, east = -1180, half_width = 320, floor = 100;
    casting_.cut(
        rounded_box(gp_Pnt(west, -half_width, floor), gp_Pnt(east, half_width, kSlab + 10), 40));
    plane("pocket-floor",
          {{west + 70, -half_width + 70, floor},
           {east - 70, -half_width + 70, floor},
           {east - 70, half_width - 70, floor},
           {west + 70, half_width - 70, floor}},
          kUp, 0.6);
    face("pocket-wall-west", gp_Pnt(west, 0, 200));
    dowel("pocket-dowel-1", gp_Pnt(west + 110, -200, floor), kUp);
    dowel("pocket-dowel-2", gp_Pnt(east - 110, 200, floor), kUp);
    hole("pocket-drain", gp_Pnt((west + east) / 2, 0, floor), kUp, 30, 60, 1.0);
  }

  void pins_and_balls() {
    for (const double y : {-1.0, 1.0}) {
      const std::string side = y < 0 ? "south" : "north";
      const gp_Pnt foot(-1050, 760 * y, kSlab);
      const double diameter = 90, height = 180;
      casting_.add(cylinder(foot.Translated(gp_Vec(0, 0, -30)), kUp, diameter, height + 30));
      features_.cylinder("lifting-pin-" + side, foot.Translated(gp_Vec(0, 0, height / 2)), kUp,
                         diameter, height, "outside", 0.5);
      face("lifting-pin-" + side, foot.Translated(gp_Vec(diameter / 2, 0, height / 2)));
      for (const double x : {-1500.0, 1680.0}) {
        const gp_Pnt centre(x, y * 560, kSlab + 70);
        casting_.add(cylinder(gp_Pnt(x, y * 560, kSlab - 20), kUp, 24, 70));
        casting_.add(ball(centre, 60));
        const std::string name = fmt::format("tooling-ball-{}{}", side, x < 0 ? "west" : "east");
        features_.sphere(name, centre, 60, kUp, 0.4);
        face(name, centre.Translated(gp_Vec(0, 0, 30)));
      }
    }
  }

  void underside() {
    // Near enough to the edge for a rod, too far in for a ball.
    features_.point("keel-edge-south", gp_Pnt(0, -kHalfWidth + 110, 0), kDown, 0.8);
    features_.point("keel-edge-north", gp_Pnt(0, kHalfWidth - 110, 0), kDown, 0.8);
    face("underside", gp_Pnt(0, -kHalfWidth + 110, 0));
    // Nothing reaches these: one lies in the middle of the underside, one on a stand.
    features_.point("keel-middle", gp_Pnt(-600, 0, 0), kDown, 0.8);
    dowel("foot-dowel", bedplate_feet()[1], kDown)["required"] = false;
  }

  FeatureRows& features_;
  Casting casting_;
  std::vector<FaceName> faces_;
};

}  // namespace

std::vector<gp_Pnt> bedplate_feet() {
  return {{-1300, -650, 0}, {1300, -650, 0}, {1300, 650, 0}, {-1300, 650, 0}};
}

Part make_bedplate(FeatureRows& features) {
  return Bedplate(features).make();
}

}  // namespace standpoint::scenes
