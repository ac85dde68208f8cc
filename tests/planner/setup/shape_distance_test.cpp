// Signed distances from shapes, against the nearest of finely sampled points of the surface.

#include "planner/setup/shape_distance.h"

#include <cmath>
#include <functional>
#include <limits>
#include <string>

#include <gtest/gtest.h>

#include "tests/draw.h"

namespace standpoint::test {
namespace {

/// A surface by two parameters, each over a stretch.
struct Sampled {
  std::function<Vec3(double, double)> at;
  double u_low, u_high, v_low, v_high;
};

/// The least of a function that falls and then rises, by thirds.
double least_of(const std::function<double(double)>& of, double low, double high) {
  for (int i = 0; i < 70; ++i) {
    const double a = low + (high - low) / 3, b = high - (high - low) / 3;
    (of(a) < of(b) ? high : low) = of(a) < of(b) ? b : a;
  }
  return of((low + high) / 2);
}

/// The least distance from any of its points: for each of many u the best v, then about the best u.
/// Each surface is straight along v, but for the ball, whose meridians bend.
double nearest(const Sampled& surface, const Vec3& point) {
  const auto at_u = [&](double u) {
    return least_of([&](double v) { return (surface.at(u, v) - point).norm(); }, surface.v_low,
                    surface.v_high);
  };
  constexpr int kSteps = 120;
  const double step = (surface.u_high - surface.u_low) / kSteps;
  double least = std::numeric_limits<double>::infinity(), best = surface.u_low;
  for (int i = 0; i <= kSteps; ++i) {
    const double off = at_u(surface.u_low + i * step);
    if (off >= least) continue;
    least = off;
    best = surface.u_low + i * step;
  }
  return std::min(least, least_of(at_u, best - step, best + step));
}

constexpr double kTurn = 2 * std::numbers::pi;

struct Frame {
  Vec3 centre, x, y, z;
};

Frame drawn_frame(Draw& draw) {
  Frame frame;
  frame.centre = draw.in_box(500);
  frame.z = draw.direction();
  frame.x = frame.z.cross(draw.direction()).normalized();
  frame.y = frame.z.cross(frame.x);
  return frame;
}

/// A point of the frame, mm.
Vec3 placed(const Frame& frame, double x, double y, double z) {
  return frame.centre + x * frame.x + y * frame.y + z * frame.z;
}

void expect_distance(const Shape& shape, const Sampled& surface, const Vec3& point, bool in_air,
                     const std::string& what) {
  const SurfaceDistance found = surface_distance(shape, point);
  const double expected = nearest(surface, point) * (in_air ? 1 : -1);
  EXPECT_NEAR(found.mm, expected, 1e-6) << what << " at " << point.transpose();
  EXPECT_NEAR(found.out.norm(), 1, 1e-12) << what;
  constexpr double kStep = 1e-3;
  for (int axis = 0; axis < 3; ++axis) {
    const Vec3 step = kStep * Vec3::Unit(axis);
    const double slope =
        (surface_distance(shape, point + step).mm - surface_distance(shape, point - step).mm) /
        (2 * kStep);
    EXPECT_NEAR(found.out[axis], slope, 1e-4) << what << " along " << axis;
  }
}

TEST(ShapeDistance, IsThatOfTheNearestSampledPoint) {
  constexpr std::uint64_t kSeed = 16;
  Draw draw(kSeed);
  for (int i = 0; i < 25; ++i) {
    SCOPED_TRACE(testing::Message() << "seed " << kSeed << ", case " << i);
    const Frame f = drawn_frame(draw);
    const double radius = draw.between(20, 80);
    const double off = draw.between(3, 120), turn = draw.between(0, kTurn);
    const double height = draw.between(-60, 60);
    const Vec3 point = placed(f, off * std::cos(turn), off * std::sin(turn), height);

    const Sampled round{[&](double u, double v) {
                          return placed(f, radius * std::cos(u), radius * std::sin(u), v);
                        },
                        0, kTurn, -200, 200};
    expect_distance(CylinderFeature{f.centre, f.z, radius, 50, false}, round, point, off > radius,
                    "cylinder");
    expect_distance(CylinderFeature{f.centre, f.z, radius, 50, true}, round, point, off < radius,
                    "bore");
    expect_distance(HoleFeature{f.centre, f.z, radius, 20}, round, point, off < radius, "hole");

    const Sampled ball{[&](double u, double v) {
                         return placed(f, radius * std::cos(u) * std::cos(v),
                                       radius * std::sin(u) * std::cos(v), radius * std::sin(v));
                       },
                       0, kTurn, -kTurn / 4, kTurn / 4};
    expect_distance(SphereFeature{f.centre, f.z, radius}, ball, point,
                    (point - f.centre).norm() > radius, "sphere");

    const Sampled flat{[&](double u, double v) { return placed(f, u, v, 0); }, -300, 300, -300,
                       300};
    expect_distance(PointFeature{f.centre, f.z}, flat, point, height > 0, "point");
    expect_distance(LineFeature{placed(f, -40, 0, 0), placed(f, 60, 0, 0), f.z}, flat, point,
                    height > 0, "line");
    const PlaneFeature plane{{placed(f, 1, 2, 0), placed(f, 90, 5, 0), placed(f, 20, 70, 0)}, f.z};
    expect_distance(plane, flat, point, height > 0, "plane");
  }
}

TEST(ShapeDistance, OfConesAndSlotsIsThatOfTheNearestSampledPoint) {
  constexpr std::uint64_t kSeed = 17;
  Draw draw(kSeed);
  for (int i = 0; i < 25; ++i) {
    SCOPED_TRACE(testing::Message() << "seed " << kSeed << ", case " << i);
    const Frame f = drawn_frame(draw);
    const double radius = draw.between(20, 60), angle = draw.between(0.2, 1.0);
    const double off = draw.between(2, 100), turn = draw.between(0, kTurn);
    const double height = draw.between(-60, 250);  // past the tip too
    const Vec3 point = placed(f, off * std::cos(turn), off * std::sin(turn), height);
    const double tip = radius / std::tan(angle);
    const Sampled wall{[&](double u, double v) {
                         const double r = radius - v * std::tan(angle);
                         return placed(f, r * std::cos(u), r * std::sin(u), v);
                       },
                       0, kTurn, -600, tip};
    const bool is_outside = height > tip || off > radius - height * std::tan(angle);
    const ConeFeature cone{f.centre, f.z, radius, angle, 30, false};
    expect_distance(cone, wall, point, is_outside, "cone");
    ConeFeature sunk = cone;
    sunk.inside = true;
    expect_distance(sunk, wall, point, !is_outside, "countersink");

    const double width = draw.between(10, 30), length = width + draw.between(10, 60);
    const double half = (length - width) / 2, end = width / 2, arc = std::numbers::pi * end;
    const Sampled rim{[&](double u, double v) {  // u along the outline, v down
                        const double straight = 2 * half;
                        if (u < straight) return placed(f, u - half, end, v);
                        if (u < straight + arc) {
                          const double a = std::numbers::pi / 2 - (u - straight) / end;
                          return placed(f, half + end * std::cos(a), end * std::sin(a), v);
                        }
                        if (u < 2 * straight + arc)
                          return placed(f, half - (u - straight - arc), -end, v);
                        const double a = -std::numbers::pi / 2 - (u - 2 * straight - arc) / end;
                        return placed(f, -half + end * std::cos(a), end * std::sin(a), v);
                      },
                      0, 4 * half + 2 * arc, -300, 300};
    const double x = draw.between(-length, length), y = draw.between(-width, width);
    const double along = std::max(std::abs(x) - half, 0.0);
    const SlotFeature slot{f.centre, f.z, f.x, width, length, 20};
    expect_distance(slot, rim, placed(f, x, y, 0.3 * height), std::hypot(along, y) < end, "slot");
  }
}

TEST(ShapeDistance, OnAnAxisAndInACentreItIsTheRadius) {
  const Vec3 at(1, 2, 3);
  const SurfaceDistance bore =
      surface_distance(CylinderFeature{at, Vec3::UnitZ(), 20, 10, true}, at + 5 * Vec3::UnitZ());
  EXPECT_DOUBLE_EQ(bore.mm, 20);
  EXPECT_NEAR(bore.out.norm(), 1, 1e-15);
  EXPECT_DOUBLE_EQ(surface_distance(SphereFeature{at, Vec3::UnitX(), 30}, at).mm, -30);
}

TEST(ShapeDistance, OfASurfaceIsThatFromThePlaneAtItsNearestPlace) {
  SurfaceFeature surface;
  surface.touches = {{Vec3(0, 0, 0), Vec3::UnitZ()}, {Vec3(100, 0, 0), Vec3::UnitX()}};
  EXPECT_DOUBLE_EQ(surface_distance(surface, Vec3(10, 20, 7)).mm, 7);
  EXPECT_DOUBLE_EQ(surface_distance(surface, Vec3(104, 20, 7)).mm, 4);
}

}  // namespace
}  // namespace standpoint::test
