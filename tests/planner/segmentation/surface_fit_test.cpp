// Fits against random movements of the answer, none of which may fit better, and against the truth.

#include "planner/segmentation/surface_fit.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "tests/draw.h"

namespace standpoint {
namespace {

/// Distance of a point from a surface, by the definition of each, not by the program's formula.
double by_definition(const Surface& s, const Vec3& p) {
  if (s.kind == SurfaceKind::sphere) return std::abs((p - s.at).norm() - s.radius);
  const double h = (p - s.at).dot(s.axis);
  const double r = s.axis.cross(p - s.at).norm();
  if (s.kind == SurfaceKind::cylinder) return std::abs(r - s.radius);
  // The generating line in the plane of axis and point: through (radius, 0) along (sin, cos).
  const double x = r - s.radius, y = h;
  const double along = x * std::sin(s.half_angle_rad) + y * std::cos(s.half_angle_rad);
  return std::hypot(x - along * std::sin(s.half_angle_rad), y - along * std::cos(s.half_angle_rad));
}

double sum_of(const Surface& s, const std::vector<Vec3>& points) {
  double sum = 0;
  for (const Vec3& p : points) sum += by_definition(s, p) * by_definition(s, p);
  return sum;
}

/// Points of a random stretch of a surface, with scatter along its normal.
std::vector<Vec3> points_on(const Surface& s, test::Draw& draw, double scatter) {
  const Vec3 u = s.axis.unitOrthogonal(), v = s.axis.cross(u);
  const double from = draw.between(0, 6), span = draw.between(1.5, 6.28);
  std::vector<Vec3> points;
  for (int i = 0; i < 80; ++i) {
    const double angle = from + draw.between(0, span), h = draw.between(-10, 10);
    const Vec3 e = std::cos(angle) * u + std::sin(angle) * v;
    Vec3 p;
    if (s.kind == SurfaceKind::sphere) {
      p = s.at + s.radius * (std::cos(h / 8) * e + std::sin(h / 8) * s.axis);
    } else if (s.kind == SurfaceKind::cylinder) {
      p = s.at + s.radius * e + h * s.axis;
    } else {
      p = s.at + (s.radius + h * std::tan(s.half_angle_rad)) * e + h * s.axis;
    }
    points.push_back(p + scatter * draw.normal() * e);
  }
  return points;
}

Surface drawn(SurfaceKind kind, test::Draw& draw) {
  Surface s;
  s.kind = kind;
  s.at = draw.in_box(1000);
  s.axis = draw.direction();
  s.radius = draw.between(15, 40);
  s.half_angle_rad = kind == SurfaceKind::cone ? draw.between(0.1, 0.9) : 0;
  return s;
}

Surface nudged(const Surface& s, test::Draw& draw, double by) {
  Surface other = s;
  other.at += by * draw.in_box(1);
  if (s.kind != SurfaceKind::sphere) other.axis = (s.axis + by / 20 * draw.in_box(1)).normalized();
  other.radius += by * draw.between(-1, 1);
  if (s.kind == SurfaceKind::cone) other.half_angle_rad += by / 20 * draw.between(-1, 1);
  return other;
}

class RoundFit : public testing::TestWithParam<SurfaceKind> {};

TEST_P(RoundFit, FindsTheSurfaceOfExactPointsFromAGuessNearIt) {
  for (unsigned seed = 1; seed <= 40; ++seed) {
    SCOPED_TRACE(testing::Message() << "seed " << seed);
    test::Draw draw(seed);
    const Surface truth = drawn(GetParam(), draw);
    const std::vector<Vec3> points = points_on(truth, draw, 0);
    const auto fitted = fit_round(nudged(truth, draw, 2), points);
    ASSERT_TRUE(fitted);
    EXPECT_LT(std::sqrt(sum_of(*fitted, points) / 80), 1e-7);
    EXPECT_LT(misfit_of(*fitted, points).worst, 1e-6);
    EXPECT_NEAR(fitted->half_angle_rad, truth.half_angle_rad, 1e-6);
    if (GetParam() != SurfaceKind::cone) EXPECT_NEAR(fitted->radius, truth.radius, 1e-5);
  }
}

TEST_P(RoundFit, NoSurfaceNearTheAnswerFitsScatteredPointsBetter) {
  for (unsigned seed = 1; seed <= 20; ++seed) {
    test::Draw draw(100 + seed);
    const Surface truth = drawn(GetParam(), draw);
    const std::vector<Vec3> points = points_on(truth, draw, 0.05);
    const auto fitted = fit_round(nudged(truth, draw, 1), points);
    ASSERT_TRUE(fitted) << "seed " << seed;
    const double least = sum_of(*fitted, points);
    EXPECT_LE(least, sum_of(truth, points) + 1e-9);
    for (int i = 0; i < 200; ++i) {
      const double by = draw.size(1e-4, 0.1);
      EXPECT_GE(sum_of(nudged(*fitted, draw, by), points), least - 1e-9)
          << "seed " << seed << " case " << i;
    }
  }
}

TEST_P(RoundFit, DistanceIsThatOfTheDefinitionAndPositiveOutside) {
  for (unsigned seed = 1; seed <= 200; ++seed) {
    test::Draw draw(seed);
    const Surface s = drawn(GetParam(), draw);
    const Vec3 p = s.at + draw.in_box(12);
    EXPECT_NEAR(std::abs(distance(s, p)), by_definition(s, p), 1e-9) << "seed " << seed;
    const Vec3 n = outward(s, p);
    EXPECT_NEAR(n.norm(), 1, 1e-12);
    EXPECT_NEAR(distance(s, p + 0.01 * n) - distance(s, p), 0.01, 1e-5) << "seed " << seed;
  }
}

INSTANTIATE_TEST_SUITE_P(Kinds, RoundFit,
                         testing::Values(SurfaceKind::cylinder, SurfaceKind::cone,
                                         SurfaceKind::sphere),
                         [](const auto& kind) -> std::string {
                           if (kind.param == SurfaceKind::cylinder) return "Cylinder";
                           return kind.param == SurfaceKind::cone ? "Cone" : "Sphere";
                         });

TEST(PlaneFit, IsTheTrueOneAndFacesTheWayAsked) {
  test::Draw draw(3);
  const Vec3 at = draw.in_box(500), axis = draw.direction();
  std::vector<Vec3> points;
  for (int i = 0; i < 30; ++i) {
    const Vec3 d = draw.in_box(50);
    points.push_back(at + d - d.dot(axis) * axis);
  }
  for (const double way : {1.0, -1.0}) {
    const auto plane = fit_plane(points, way * axis);
    ASSERT_TRUE(plane);
    EXPECT_NEAR(plane->axis.dot(axis), way, 1e-12);
    EXPECT_NEAR((plane->at - at).dot(axis), 0, 1e-10);
  }
  EXPECT_FALSE(fit_plane(std::vector<Vec3>{at, at + axis}, axis));
  EXPECT_FALSE(fit_plane(std::vector<Vec3>{at, at + axis, at + 2 * axis}, axis));
}

TEST(RoundFitRefuses, PointsOfAPlaneAndTooFew) {
  test::Draw draw(4);
  Surface guess = drawn(SurfaceKind::cylinder, draw);
  std::vector<Vec3> flat;
  for (int i = 0; i < 30; ++i) flat.emplace_back(draw.between(0, 50), draw.between(0, 50), 0);
  guess.at = Vec3(25, 25, -1e6);
  guess.axis = Vec3::UnitX();
  guess.radius = 1e6;
  EXPECT_FALSE(fit_round(guess, flat));
  EXPECT_FALSE(fit_round(guess, std::vector<Vec3>(3, Vec3::Zero())));
}

}  // namespace
}  // namespace standpoint
