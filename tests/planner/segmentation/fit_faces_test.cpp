// Meshes of turned parts and prisms, whose surfaces are known exactly, against what is fitted.

#include "planner/segmentation/fit_faces.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "tests/draw.h"
#include "tests/planner/segmentation/turned_mesh.h"

namespace standpoint {
namespace {

using test::ProfilePoint;

std::vector<Face> of_kind(const PartFaces& part, SurfaceKind kind) {
  std::vector<Face> found;
  std::copy_if(part.faces.begin(), part.faces.end(), std::back_inserter(found),
               [&](const Face& face) { return face.surface.kind == kind; });
  return found;
}

std::size_t count_of(const PartFaces& part, SurfaceKind kind) {
  return of_kind(part, kind).size();
}

Pose any_pose(unsigned seed) {
  test::Draw draw(seed);
  Pose pose = Pose::Identity();
  pose.rotate(Eigen::AngleAxisd(draw.between(0, 3), draw.direction()));
  pose.pretranslate(draw.in_box(500));
  return pose;
}

double off_axis(const Surface& surface, const Vec3& at, const Vec3& axis) {
  return axis.cross(surface.at - at).norm();
}

/// A bush with a bore of 20, a countersink of 90 degrees, 40 outside, 30 high.
const std::vector<ProfilePoint> kBush = {{10, 0}, {20, 0}, {20, 30}, {13, 30}, {10, 27}};

struct Cut {
  int facets;
  int finer;
};

void PrintTo(const Cut& cut, std::ostream* out) {
  *out << cut.facets << " facets, " << cut.finer << " times finer";
}

class TurnedMesh : public testing::TestWithParam<Cut> {};

TEST_P(TurnedMesh, SurfacesAreThoseOfTheDrawing) {
  for (unsigned seed = 1; seed <= 3; ++seed) {
    SCOPED_TRACE(testing::Message() << "seed " << seed);
    const Pose pose = any_pose(seed);
    const Mesh mesh =
        test::moved(test::turned(test::finer(kBush, GetParam().finer), GetParam().facets), pose);
    const PartFaces part = fit_faces(mesh);
    ASSERT_EQ(part.faces.size(), 5U);
    ASSERT_EQ(count_of(part, SurfaceKind::plane), 2U);
    const auto cylinders = of_kind(part, SurfaceKind::cylinder);
    ASSERT_EQ(cylinders.size(), 2U);
    const Vec3 at = pose.translation(), axis = pose.linear().col(2);
    for (const Face& face : cylinders) {
      EXPECT_NEAR(face.surface.radius, face.hollow ? 10 : 20, 1e-6);
      EXPECT_LT(off_axis(face.surface, at, axis), 1e-6);
      EXPECT_NEAR(std::abs(face.surface.axis.dot(axis)), 1, 1e-12);
      EXPECT_EQ(face.loops.size(), 2U);
      EXPECT_LT(face.fit->worst, 1e-6);
    }
    EXPECT_NE(cylinders[0].hollow, cylinders[1].hollow);
    const auto cones = of_kind(part, SurfaceKind::cone);
    ASSERT_EQ(cones.size(), 1U);
    EXPECT_TRUE(cones[0].hollow);
    EXPECT_NEAR(cones[0].surface.half_angle_rad, std::numbers::pi / 4, 1e-7);
    EXPECT_NEAR(cones[0].surface.axis.dot(axis), 1, 1e-10);  // wider toward the opening
    const double height = (cones[0].surface.at - at).dot(axis);
    EXPECT_NEAR(cones[0].surface.radius, height - 17, 1e-5);
  }
}

INSTANTIATE_TEST_SUITE_P(Cuts, TurnedMesh,
                         testing::Values(Cut{200, 1}, Cut{64, 1}, Cut{24, 1}, Cut{18, 1},
                                         Cut{64, 6}, Cut{24, 4}));

TEST(FacesOfMesh, ScatterOf005LeavesTheSameFacesNearThoseOfTheDrawing) {
  for (unsigned seed = 1; seed <= 4; ++seed) {
    SCOPED_TRACE(testing::Message() << "seed " << seed);
    const Pose pose = any_pose(seed);
    const Mesh mesh = test::scattered(
        test::moved(test::turned(test::finer(kBush, 1 + static_cast<int>(seed)), 72), pose), 0.05,
        seed);
    const PartFaces part = fit_faces(mesh);
    EXPECT_EQ(count_of(part, SurfaceKind::plane), 2U);
    EXPECT_EQ(count_of(part, SurfaceKind::cone), 1U);
    const auto cylinders = of_kind(part, SurfaceKind::cylinder);
    ASSERT_EQ(cylinders.size(), 2U);
    for (const Face& face : cylinders) {
      EXPECT_NEAR(face.surface.radius, face.hollow ? 10 : 20, 0.02);
      EXPECT_LT(off_axis(face.surface, pose.translation(), pose.linear().col(2)), 0.1);
      EXPECT_NEAR(face.fit->rms, 0.05, 0.012);
      EXPECT_FALSE(face.fit->doubtful);
    }
  }
}

TEST(FacesOfMesh, TwelveFacetsAreADoubtfulCylinderAndSixArePlanes) {
  const PartFaces twelve = fit_faces(test::prism(12, 15, 40));
  ASSERT_EQ(count_of(twelve, SurfaceKind::cylinder), 1U);
  EXPECT_EQ(count_of(twelve, SurfaceKind::plane), 2U);
  const Face round = of_kind(twelve, SurfaceKind::cylinder)[0];
  EXPECT_TRUE(round.fit->doubtful);
  EXPECT_NEAR(round.surface.radius, 15, 1e-6);
  const PartFaces six = fit_faces(test::prism(6, 15, 40));
  EXPECT_EQ(count_of(six, SurfaceKind::plane), 8U);
  EXPECT_EQ(six.faces.size(), 8U);
  const PartFaces twenty = fit_faces(test::prism(20, 15, 40));
  ASSERT_EQ(count_of(twenty, SurfaceKind::cylinder), 1U);
  EXPECT_FALSE(of_kind(twenty, SurfaceKind::cylinder)[0].fit->doubtful);
}

TEST(FacesOfMesh, ABallIsASphereAndAlsoHalfOfOne) {
  const PartFaces whole = fit_faces(test::turned(test::arc(0, 5, 12, -90, 90, 16), 32));
  ASSERT_EQ(whole.faces.size(), 1U);
  EXPECT_EQ(whole.faces[0].surface.kind, SurfaceKind::sphere);
  EXPECT_NEAR(whole.faces[0].surface.radius, 12, 1e-6);
  EXPECT_LT((whole.faces[0].surface.at - Vec3(0, 0, 5)).norm(), 1e-6);
  EXPECT_TRUE(whole.faces[0].loops.empty());
  std::vector<ProfilePoint> half = test::arc(0, 0, 12, 0, 90, 8);
  half.insert(half.begin(), {0, 0});
  const PartFaces dome = fit_faces(test::turned(half, 32));
  ASSERT_EQ(count_of(dome, SurfaceKind::sphere), 1U);
  EXPECT_EQ(count_of(dome, SurfaceKind::plane), 1U);
  EXPECT_EQ(dome.faces.size(), 2U);
}

TEST(FacesOfMesh, ATorusIsNoneOfThem) {
  const PartFaces part = fit_faces(test::turned(test::arc(30, 0, 8, 0, 345, 23), 48));
  EXPECT_EQ(count_of(part, SurfaceKind::sphere), 0U);
  EXPECT_EQ(count_of(part, SurfaceKind::cone), 0U);
  EXPECT_EQ(count_of(part, SurfaceKind::plane), 0U);
  EXPECT_GE(count_of(part, SurfaceKind::other), 1U);
}

TEST(FacesOfMesh, ARoundedEdgeStaysApartFromPlaneAndCylinder) {
  // A boss of 40 with a round of 4 on its edge.
  std::vector<ProfilePoint> profile = {{0, 0}, {20, 0}};
  for (const ProfilePoint& p : test::arc(16, 26, 4, 0, 90, 6)) profile.push_back(p);
  profile.push_back({0, 30});
  const PartFaces part = fit_faces(test::turned(profile, 48));
  EXPECT_EQ(count_of(part, SurfaceKind::plane), 2U);
  ASSERT_EQ(count_of(part, SurfaceKind::cylinder), 1U);
  EXPECT_EQ(count_of(part, SurfaceKind::other), 1U);
  EXPECT_EQ(part.faces.size(), 4U);
  const Face wall = of_kind(part, SurfaceKind::cylinder)[0];
  EXPECT_NEAR(wall.surface.radius, 20, 1e-6);
  std::vector<EdgeBend> bends;
  for (const Loop& loop : wall.loops) bends.push_back(loop.at(0).bend);
  std::sort(bends.begin(), bends.end());
  EXPECT_EQ(bends, (std::vector<EdgeBend>{EdgeBend::convex, EdgeBend::smooth}));
}

TEST(FacesOfMesh, AWallDoesNotTakeTheRowsOfTheRoundThatItRunsInto) {
  // A boss of 40 on a plate; the round of 12 at its foot leaves it by 0.03 mm in its first row.
  std::vector<ProfilePoint> profile = {{0, 0}, {45, 0}, {45, 10}, {32, 10}};
  for (const ProfilePoint& p : test::arc(32, 22, 12, 270, 180, 24)) profile.push_back(p);
  profile.push_back({20, 70});
  profile.push_back({0, 70});
  for (unsigned seed = 1; seed <= 4; ++seed) {
    SCOPED_TRACE(testing::Message() << "seed " << seed);
    const PartFaces part = fit_faces(
        test::scattered(test::moved(test::turned(profile, 72), any_pose(seed)), 0.05, seed));
    const auto cylinders = of_kind(part, SurfaceKind::cylinder);
    const auto boss = std::find_if(cylinders.begin(), cylinders.end(), [](const Face& face) {
      return std::abs(face.surface.radius - 20) < 2;
    });
    ASSERT_NE(boss, cylinders.end());
    EXPECT_NEAR(boss->surface.radius, 20, 0.02);
    EXPECT_NEAR(boss->area, 2 * std::numbers::pi * 20 * 48, 2 * std::numbers::pi * 20 * 1.5);
    EXPECT_LT(boss->fit->rms, 0.062);
    EXPECT_FALSE(boss->fit->doubtful);
  }
}

TEST(FacesOfMesh, ADrillTipIsOnTheAxisOfItsHoleUnderScatter) {
  const std::vector<ProfilePoint> profile = {{0, 0},   {30, 0},  {30, 40},
                                             {10, 40}, {10, 16}, {0, 10}};
  for (unsigned seed = 1; seed <= 4; ++seed) {
    SCOPED_TRACE(testing::Message() << "seed " << seed);
    const PartFaces part = fit_faces(test::scattered(
        test::moved(test::turned(test::finer(profile, 3), 36), any_pose(seed)), 0.05, seed));
    const auto cones = of_kind(part, SurfaceKind::cone);
    const auto cylinders = of_kind(part, SurfaceKind::cylinder);
    ASSERT_EQ(cones.size(), 1U);
    ASSERT_EQ(cylinders.size(), 2U);
    const Face& hole = cylinders[cylinders[0].hollow ? 0 : 1];
    EXPECT_LT(cones[0].surface.axis.cross(hole.surface.axis).norm(), 1e-9);
    EXPECT_LT(off_axis(cones[0].surface, hole.surface.at, hole.surface.axis), 1e-9);
    EXPECT_NEAR(cones[0].surface.half_angle_rad, std::atan2(10, 6), 0.05);
  }
}

/// Everything that must not depend on the file's order, as numbers.
std::vector<double> numbers_of(const PartFaces& part) {
  std::vector<double> all;
  for (const Face& face : part.faces) {
    all.push_back(static_cast<double>(face.surface.kind));
    all.insert(all.end(), {face.surface.radius, face.surface.half_angle_rad, face.area,
                           face.fit->rms, face.fit->worst});
    for (int i = 0; i < 3; ++i) all.insert(all.end(), {face.surface.at[i], face.surface.axis[i]});
    for (const Loop& loop : face.loops) {
      for (const Edge& edge : loop) {
        all.push_back(edge.beyond ? static_cast<double>(*edge.beyond) : -1);
        for (const Vec3& p : edge.points) all.insert(all.end(), {p.x(), p.y(), p.z()});
      }
    }
  }
  return all;
}

TEST(FacesOfMesh, OrderOfTrianglesAndCopiesOfVerticesChangeNothing) {
  const Mesh mesh = test::scattered(test::moved(test::turned(kBush, 40), any_pose(5)), 0.02, 5);
  const std::vector<double> once = numbers_of(fit_faces(mesh));
  EXPECT_GT(once.size(), 500U);
  for (unsigned seed = 1; seed <= 3; ++seed) {
    EXPECT_EQ(numbers_of(fit_faces(test::reordered(mesh, seed))), once) << "seed " << seed;
  }
}

TEST(FacesOfMesh, RimsCloseAndBeyondIsMutualAndEncloseTheArea) {
  const Mesh mesh = test::moved(test::turned(kBush, 60), any_pose(9));
  const PartFaces part = fit_faces(mesh);
  std::size_t convex = 0, concave = 0;
  for (std::size_t f = 0; f < part.faces.size(); ++f) {
    Vec3 area = Vec3::Zero();
    for (const Loop& loop : part.faces[f].loops) {
      ASSERT_FALSE(loop.empty());
      for (std::size_t e = 0; e < loop.size(); ++e) {
        const Edge& edge = loop[e];
        EXPECT_EQ(edge.points.back(), loop[(e + 1) % loop.size()].points.front());
        ASSERT_TRUE(edge.beyond);
        const auto& loops = part.faces[*edge.beyond].loops;
        EXPECT_TRUE(std::any_of(loops.begin(), loops.end(), [&](const Loop& other) {
          return std::any_of(other.begin(), other.end(),
                             [&](const Edge& back) { return back.beyond == f; });
        }));
        convex += edge.bend == EdgeBend::convex ? 1 : 0;
        concave += edge.bend == EdgeBend::concave ? 1 : 0;
        for (std::size_t i = 1; i < edge.points.size(); ++i) {
          area += 0.5 * edge.points[i - 1].cross(edge.points[i]);
        }
      }
    }
    // The material lies to the left: the rims of a plane go round its area, outward (Stokes).
    if (part.faces[f].surface.kind == SurfaceKind::plane) {
      EXPECT_NEAR(area.dot(part.faces[f].surface.axis), part.faces[f].area,
                  1e-6 * part.faces[f].area);
    }
  }
  EXPECT_EQ(convex, 10U);  // five edges, from both sides: all outer corners
  EXPECT_EQ(concave, 0U);
}

TEST(FacesOfMesh, ACounterboreHasAnInnerCorner) {
  const PartFaces part =
      fit_faces(test::turned({{5, 0}, {20, 0}, {20, 20}, {9, 20}, {9, 12}, {5, 12}}, 48));
  ASSERT_EQ(part.faces.size(), 6U);
  std::size_t concave = 0;
  for (const Face& face : part.faces) {
    for (const Loop& loop : face.loops) {
      for (const Edge& edge : loop) concave += edge.bend == EdgeBend::concave ? 1 : 0;
    }
  }
  EXPECT_EQ(concave, 2U);
}

TEST(FacesOfMesh, AMeshInsideOutIsTurnedAndPiecesAreTold) {
  Mesh mesh = test::both(test::turned(kBush, 48),
                         test::moved(test::prism(4, 10, 10), Pose(Eigen::Translation3d(80, 0, 0))));
  for (auto& t : mesh.triangles) std::swap(t[0], t[1]);
  const PartFaces part = fit_faces(mesh);
  EXPECT_EQ(part.faces.size(), 11U);
  std::size_t hollow = 0;
  for (const Face& face : part.faces) {
    hollow += face.hollow ? 1 : 0;
    EXPECT_LT(face.solid, 2U);
  }
  EXPECT_EQ(hollow, 2U);
  EXPECT_NE(part.faces.front().solid, part.faces.back().solid);
}

TEST(FacesOfMesh, AnOpenMeshHasOpenEdgesAndNothingHasNoFaces) {
  Mesh mesh = test::prism(4, 10, 10);
  mesh.triangles.erase(mesh.triangles.begin());
  const PartFaces part = fit_faces(mesh);
  const bool has_open = std::any_of(part.faces.begin(), part.faces.end(), [](const Face& face) {
    return std::any_of(face.loops.begin(), face.loops.end(), [](const Loop& loop) {
      return std::any_of(loop.begin(), loop.end(), [](const Edge& edge) {
        return edge.bend == EdgeBend::open && !edge.beyond;
      });
    });
  });
  EXPECT_TRUE(has_open);
  EXPECT_TRUE(fit_faces({}).faces.empty());
}

TEST(FacesOfMesh, DegenerateAndDoubledTrianglesDoNoHarm) {
  Mesh mesh = test::turned(kBush, 32);
  const auto first = mesh.triangles[0];
  mesh.triangles.push_back(first);
  mesh.triangles.push_back({first[0], first[0], first[1]});
  const PartFaces part = fit_faces(mesh);
  EXPECT_EQ(part.faces.size(), 5U);
  EXPECT_EQ(part.faces[0].fit->of_triangles, mesh.triangles.size());
}

}  // namespace
}  // namespace standpoint
