#include "planner/stations/closed_bodies.h"

#include <cmath>
#include <numbers>
#include <optional>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "geometry/tree/tree.h"
#include "tests/planner/scene_builder.h"

namespace standpoint {
namespace {

using test::Draw;

Mesh turned_inside_out(Mesh mesh) {
  for (auto& t : mesh.triangles) std::swap(t[0], t[1]);
  return mesh;
}

Mesh joined(Mesh a, const Mesh& b) {
  test::append(a, b);
  return a;
}

Mesh cube(double half, const Vec3& centre = Vec3::Zero()) {
  return test::box(centre - Vec3::Constant(half), centre + Vec3::Constant(half));
}

bool holds(const Mesh& mesh, const Vec3& at) {
  test::MadeScene scene;
  test::add_body(scene, "body", mesh);
  return ClosedBodies(test::cell_of(scene)).first_around(at).has_value();
}

/// How often a surface goes round a place, by the angles that its triangles take up (A. van
/// Oosterom and J. Strackee, IEEE Trans. Biomed. Eng. 30 (1983) 125-126, eq. 8). No ray, no tree.
double turns_about(const Mesh& mesh, const Vec3& at) {
  double angle = 0;
  for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
    const auto [a, b, c] = mesh.corners(i);
    const Vec3 p = a - at, q = b - at, r = c - at;
    const double volume = p.dot(q.cross(r));
    const double below = p.norm() * q.norm() * r.norm() + p.dot(q) * r.norm() +
                         q.dot(r) * p.norm() + r.dot(p) * q.norm();
    angle += 2 * std::atan2(volume, below);
  }
  return angle / (4 * std::numbers::pi);
}

/// A ball with a rugged skin: a prism of rings whose corners lie at random distances, closed at its
/// poles. In whole numbers of a coarse grid where `on_grid`, so that rays meet edges and corners.
Mesh rugged_ball(Draw& draw, const Vec3& centre, double radius, bool on_grid) {
  const std::uint32_t rings = 3 + static_cast<std::uint32_t>(draw.below(4));
  const std::uint32_t sides = 3 + static_cast<std::uint32_t>(draw.below(6));
  Mesh mesh;
  const auto add = [&](double up, double round, double stretch) {
    const double reach = radius * stretch;
    Vec3 p(reach * std::cos(up) * std::cos(round), reach * std::cos(up) * std::sin(round),
           reach * std::sin(up));
    p += centre;
    if (on_grid) p = p.array().round();
    mesh.vertices.push_back(p);
  };
  const double pi = std::numbers::pi;
  add(-pi / 2, 0, 1);
  for (std::uint32_t r = 0; r < rings; ++r) {
    for (std::uint32_t s = 0; s < sides; ++s)
      add(-pi / 2 + pi * (r + 1) / (rings + 1), 2 * pi * s / sides, draw.between(0.3, 1));
  }
  add(pi / 2, 0, 1);
  const auto corner = [&](std::uint32_t r, std::uint32_t s) { return 1 + r * sides + s % sides; };
  const auto last = static_cast<std::uint32_t>(mesh.vertices.size()) - 1;
  for (std::uint32_t s = 0; s < sides; ++s) {
    mesh.triangles.push_back({0, corner(0, s + 1), corner(0, s)});
    mesh.triangles.push_back({last, corner(rings - 1, s), corner(rings - 1, s + 1)});
    for (std::uint32_t r = 0; r + 1 < rings; ++r) {
      mesh.triangles.push_back({corner(r, s), corner(r, s + 1), corner(r + 1, s + 1)});
      mesh.triangles.push_back({corner(r, s), corner(r + 1, s + 1), corner(r + 1, s)});
    }
  }
  return mesh;
}

/// The same triangles in another order, each beginning at another corner, with corners of their own
/// where `apart`.
Mesh shuffled(Draw& draw, const Mesh& mesh, bool apart) {
  Mesh result;
  result.vertices = mesh.vertices;
  std::vector<std::size_t> order(mesh.triangles.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  for (std::size_t i = order.size(); i > 1; --i) std::swap(order[i - 1], order[draw.below(i)]);
  for (const std::size_t i : order) {
    auto t = mesh.triangles[i];
    std::rotate(t.begin(), t.begin() + static_cast<std::ptrdiff_t>(draw.below(3)), t.end());
    if (apart) {
      for (auto& corner : t) {
        result.vertices.push_back(mesh.vertices[corner]);
        corner = static_cast<std::uint32_t>(result.vertices.size() - 1);
      }
    }
    result.triangles.push_back(t);
  }
  return result;
}

// Balls that overlap, in each other and apart: a place is inside where the angles add up to a turn
// or more. Half of the cases stand on a grid, and so do their places.
TEST(ClosedBodies, AgreeWithTheSolidAngleOnRandomBodies) {
  constexpr std::uint64_t kSeed = 20817;
  int inside = 0, on_grid_inside = 0, asked = 0;
  for (int c = 0; c < 400; ++c) {
    Draw draw(kSeed + static_cast<std::uint64_t>(c));
    SCOPED_TRACE("seed " + std::to_string(kSeed) + ", case " + std::to_string(c));
    const bool on_grid = draw.chance(0.5);
    Mesh mesh;
    const std::size_t balls = 1 + draw.below(4);
    for (std::size_t b = 0; b < balls; ++b)
      test::append(mesh, rugged_ball(draw, draw.in_box(6), draw.between(4, 12), on_grid));
    const Mesh given = shuffled(draw, mesh, draw.chance(0.5));
    test::MadeScene scene;
    test::add_body(scene, "body", given);
    const Cell cell = test::cell_of(scene);
    ClosedBodies closed(cell);
    for (int i = 0; i < 60; ++i) {
      Vec3 at = draw.in_box(14);
      if (on_grid) at = at.array().round();
      const double turns = turns_about(mesh, at);
      if (std::abs(turns - std::round(turns)) > 1e-6) continue;  // on the surface
      if (cell.tree().first_cut_by({at, Vec3::UnitZ(), 0, 0, 0})) continue;
      ++asked;
      const bool is_inside = closed.first_around(at).has_value();
      EXPECT_EQ(is_inside, turns > 0.5) << at.transpose() << ": " << turns << " turns";
      inside += is_inside ? 1 : 0;
      on_grid_inside += is_inside && on_grid ? 1 : 0;
    }
  }
  EXPECT_GT(asked, 20000);
  EXPECT_GT(inside, 1000);
  EXPECT_GT(on_grid_inside, 500);
}

// Some triangles run the wrong way, as careless programs write them: less than half of the area,
// so the rest says which side is which.
TEST(ClosedBodies, AFewTrianglesTheWrongWayRoundChangeNothing) {
  constexpr std::uint64_t kSeed = 5501;
  int inside = 0;
  for (int c = 0; c < 200; ++c) {
    Draw draw(kSeed + static_cast<std::uint64_t>(c));
    SCOPED_TRACE("seed " + std::to_string(kSeed) + ", case " + std::to_string(c));
    const Mesh sound = rugged_ball(draw, Vec3::Zero(), 10, false);
    Mesh spoilt = sound;
    double area = 0, spoilt_area = 0;
    for (std::size_t i = 0; i < sound.triangles.size(); ++i) {
      const auto t = sound.corners(i);
      area += (t[1] - t[0]).cross(t[2] - t[0]).norm();
    }
    for (std::size_t i = 0; i < sound.triangles.size(); ++i) {
      const auto t = sound.corners(i);
      const double mine = (t[1] - t[0]).cross(t[2] - t[0]).norm();
      if (!draw.chance(0.3) || spoilt_area + mine > 0.45 * area) continue;
      spoilt_area += mine;
      std::swap(spoilt.triangles[i][0], spoilt.triangles[i][1]);
    }
    for (const bool is_hall : {false, true}) {
      const Mesh mesh = is_hall ? turned_inside_out(spoilt) : spoilt;
      test::MadeScene scene;
      test::add_body(scene, "body", shuffled(draw, mesh, true));
      ClosedBodies closed(test::cell_of(scene));
      for (int i = 0; i < 30; ++i) {
        const Vec3 at = draw.in_box(8);
        const bool expected = !is_hall && turns_about(sound, at) > 0.5;
        EXPECT_EQ(closed.first_around(at).has_value(), expected) << at.transpose();
        inside += expected ? 1 : 0;
      }
    }
  }
  EXPECT_GT(inside, 500);
}

TEST(ClosedBodies, ARayThroughEdgesAndCornersIsNoSpecialCase) {
  // The diagonals of a cube's lid cross or miss its middle; the cut ones have an edge, or a corner,
  // over and under every place below.
  for (const std::size_t times : {0U, 1U, 2U, 3U}) {
    const Mesh mesh = test::cut_up(cube(8), times);
    EXPECT_TRUE(holds(mesh, {0, 0, 0}));
    EXPECT_TRUE(holds(mesh, {4, 4, 1}));
    EXPECT_TRUE(holds(mesh, {-4, 4, 1}));
    EXPECT_TRUE(holds(mesh, {2, 0, -7}));
    EXPECT_FALSE(holds(mesh, {0, 0, 9}));
    EXPECT_FALSE(holds(mesh, {0, 0, -9}));
    EXPECT_FALSE(holds(mesh, {8, 8, -9}));  // the ray runs along an upright edge
    EXPECT_FALSE(holds(mesh, {8, 0, -9}));  // and within an upright face
  }
}

TEST(ClosedBodies, AHallOfThicknessHoldsItsWallsAndNotItsAir) {
  const Mesh hall = joined(cube(10), turned_inside_out(cube(8)));
  EXPECT_FALSE(holds(hall, {0, 0, 0}));
  EXPECT_TRUE(holds(hall, {9, 0, 0}));
  EXPECT_FALSE(holds(hall, {11, 0, 0}));
}

TEST(ClosedBodies, AColumnInAHallSeenFromInsideIsSolid) {
  const Mesh hall = joined(turned_inside_out(cube(10)), cube(2, {5, 0, 0}));
  EXPECT_TRUE(holds(hall, {5, 0, 0}));
  EXPECT_FALSE(holds(hall, {0, 0, 0}));
  const Mesh hollow_column = joined(hall, turned_inside_out(cube(1, {5, 0, 0})));
  EXPECT_FALSE(holds(hollow_column, {5, 0, 0}));
  EXPECT_TRUE(holds(hollow_column, {6.5, 0, 0}));
}

TEST(ClosedBodies, AnotherBodysHallTakesNothingFromABlock) {
  test::MadeScene scene;
  test::add_body(scene, "hall", turned_inside_out(cube(10)));
  test::add_body(scene, "block", cube(2));
  ClosedBodies closed(test::cell_of(scene));
  EXPECT_EQ(closed.first_around({0, 0, 0}), BodyId(1));
  EXPECT_EQ(closed.first_around({5, 0, 0}), std::nullopt);
}

TEST(ClosedBodies, AnOpenPatchBesideAShellChangesNothing) {
  Mesh patch;
  patch.vertices = {{-20, -20, 5}, {20, -20, 5}, {0, 20, 5}};
  patch.triangles = {{0, 1, 2}};
  const Mesh mesh = joined(cube(3), patch);
  EXPECT_TRUE(holds(mesh, {0, 0, 0}));
  EXPECT_FALSE(holds(mesh, {0, 0, 4}));
}

TEST(ClosedBodies, DegenerateAndRepeatedTrianglesChangeNothing) {
  Mesh mesh = cube(3);
  mesh.triangles.push_back(mesh.triangles[3]);
  mesh.triangles.push_back({0, 0, 1});
  EXPECT_TRUE(holds(mesh, {0, 0, 0}));
  EXPECT_FALSE(holds(mesh, {0, 0, 4}));
  Mesh twice = cube(3);
  test::append(twice, cube(3));
  EXPECT_TRUE(holds(twice, {0, 0, 0}));
}

TEST(ClosedBodies, ASkinDrawnFromBothSidesHoldsNothing) {
  EXPECT_FALSE(holds(joined(cube(3), turned_inside_out(cube(3))), {0, 0, 0}));
}

TEST(ClosedBodies, ASurfaceWithOneSideOnlyHoldsNothing) {
  // A Klein bottle cut from a square: each edge has two triangles, no order of corners fits all.
  Mesh mesh;
  constexpr std::uint32_t n = 8;
  for (std::uint32_t i = 0; i < n; ++i) {
    for (std::uint32_t j = 0; j < n; ++j) {
      const double u = 2 * std::numbers::pi * i / n, v = 2 * std::numbers::pi * j / n;
      const double r = 5 + std::cos(u / 2) * std::sin(v) - std::sin(u / 2) * std::sin(2 * v);
      mesh.vertices.emplace_back(r * std::cos(u), r * std::sin(u),
                                 std::sin(u / 2) * std::sin(v) + std::cos(u / 2) * std::sin(2 * v));
    }
  }
  const auto corner = [&](std::uint32_t i, std::uint32_t j) {
    // Once round in u turns v about.
    return i == n ? (n - j % n) % n : i * n + j % n;
  };
  for (std::uint32_t i = 0; i < n; ++i) {
    for (std::uint32_t j = 0; j < n; ++j) {
      mesh.triangles.push_back({corner(i, j), corner(i + 1, j), corner(i + 1, j + 1)});
      mesh.triangles.push_back({corner(i, j), corner(i + 1, j + 1), corner(i, j + 1)});
    }
  }
  Draw draw(77);
  for (int i = 0; i < 200; ++i) EXPECT_FALSE(holds(mesh, draw.in_box(6))) << "seed 77, " << i;
}

}  // namespace
}  // namespace standpoint
