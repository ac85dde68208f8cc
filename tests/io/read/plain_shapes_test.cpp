// Boxes, cylinders and floors that a scene states in place of a mesh: closed, outward, where they
// are said to be, and no smaller than the true shape.

#include "io/read/bodies/plain_shapes.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "geometry/mesh_defects.h"
#include "tests/draw.h"

namespace standpoint {
namespace {

constexpr double kTolerance = 0.1;

ReadBody upright(const PlainShape& shape, double mm_per_unit = 1, double tolerance = kTolerance) {
  return plain_body(shape, mm_per_unit, tolerance, Pose::Identity());
}

/// By the divergence theorem; positive where the triangles look outward.
double volume(const Mesh& mesh) {
  double six_times = 0;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    const auto [a, b, c] = mesh.corners(t);
    six_times += a.dot(b.cross(c));
  }
  return six_times / 6;
}

void expect_closed(const ReadBody& body) {
  EXPECT_FALSE(find_defects(body.mesh).any());
  ASSERT_EQ(body.mesh.face_of_triangle.size(), body.mesh.triangles.size());
  for (const auto face : body.mesh.face_of_triangle) EXPECT_LT(face, body.mesh.face_names.size());
}

TEST(PlainShapes, ABoxStandsOnItsOriginCentred) {
  const ReadBody body = upright(PlainBox{Vec3(400, 600, 1800)});
  expect_closed(body);
  EXPECT_EQ(body.report.low, Vec3(-200, -300, 0));
  EXPECT_EQ(body.report.high, Vec3(200, 300, 1800));
  EXPECT_NEAR(volume(body.mesh), 400.0 * 600 * 1800, 1e-3);
  EXPECT_EQ(body.report.format, "box");
}

TEST(PlainShapes, AFloorsUpperFaceLiesAtItsOrigin) {
  const ReadBody body = upright(PlainFloor{Vec2(12, 9)}, 1000);
  expect_closed(body);
  EXPECT_EQ(body.report.low, Vec3(-6000, -4500, -kFloorThicknessMm));
  EXPECT_EQ(body.report.high, Vec3(6000, 4500, 0));
  EXPECT_GT(volume(body.mesh), 0);
}

TEST(PlainShapes, FacesAreNamedForWhatTheyAre) {
  const Mesh mesh = upright(PlainBox{Vec3(2, 4, 6)}).mesh;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    const auto [a, b, c] = mesh.corners(t);
    const Vec3 normal = (b - a).cross(c - a).normalized();
    const std::string& name = mesh.face_names[mesh.face_of_triangle[t]];
    const std::string expected = normal.z() > 0.5    ? "top"
                                 : normal.z() < -0.5 ? "bottom"
                                 : normal.x() > 0.5  ? "side +x"
                                 : normal.x() < -0.5 ? "side -x"
                                 : normal.y() > 0.5  ? "side +y"
                                                     : "side -y";
    EXPECT_EQ(name, expected);
  }
}

TEST(PlainShapes, ACylinderHoldsTheTrueOneWithinTheChordTolerance) {
  test::Draw draw(20260101);
  for (int round = 0; round < 200; ++round) {
    const double radius = std::exp(draw.between(std::log(0.5), std::log(8000)));
    const double tolerance = std::exp(draw.between(std::log(0.01), std::log(5)));
    const double height = draw.between(1, 5000);
    SCOPED_TRACE("seed 20260101 round " + std::to_string(round));
    const ReadBody body = upright(PlainCylinder{2 * radius, height}, 1, tolerance);
    expect_closed(body);
    double farthest = 0;
    for (const Vec3& v : body.mesh.vertices) farthest = std::max(farthest, v.head<2>().norm());
    EXPECT_LE(farthest, std::max(radius + tolerance, radius * (1 + 1.1e-5)) * (1 + 1e-12));
    // No wall cuts into the true one: the middle of each upright edge pair's chord is at least
    // `radius` out.
    const Mesh& mesh = body.mesh;
    for (const auto& t : mesh.triangles) {
      for (int k = 0; k < 3; ++k) {
        const Vec3 &a = mesh.vertices[t[k]], &b = mesh.vertices[t[(k + 1) % 3]];
        if (a.head<2>().norm() < radius / 2 || b.head<2>().norm() < radius / 2) continue;
        EXPECT_GE(((a + b) / 2).head<2>().norm(), radius * (1 - 1e-12));
      }
    }
    EXPECT_GE(volume(mesh), std::numbers::pi * radius * radius * height * (1 - 1e-12));
    EXPECT_NEAR(body.report.high.x(), radius, 1e-9 * radius);
    EXPECT_NEAR(body.report.low.y(), -radius, 1e-9 * radius);
  }
}

TEST(PlainShapes, AShapeIsPlacedByItsPoseAndUnit) {
  Pose pose = Pose::Identity();
  pose.linear() << 0, -1, 0, 1, 0, 0, 0, 0, 1;
  pose.translation() = Vec3(1000, 2000, 30);
  const ReadBody body = plain_body(PlainBox{Vec3(1, 2, 3)}, 25.4, kTolerance, pose);
  // Turned by a quarter: 2 inches along x, 1 inch along y.
  EXPECT_LT((body.report.low - Vec3(1000 - 25.4, 2000 - 12.7, 30)).norm(), 1e-12);
  EXPECT_LT((body.report.high - Vec3(1000 + 25.4, 2000 + 12.7, 30 + 76.2)).norm(), 1e-12);
  EXPECT_EQ(body.placement.mm_per_coordinate, 25.4);
  EXPECT_EQ(body.report.mm_per_unit, 25.4);
}

}  // namespace
}  // namespace standpoint
