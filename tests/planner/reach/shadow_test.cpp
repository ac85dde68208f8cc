// A surface that is said to hide a bundle of beams must break every one of them: held against axes
// shot through the bundle, above all through what the surface leaves open.

#include "planner/reach/shadow.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "geometry/same_place.h"
#include "geometry/tree/tree.h"
#include "planner/reach/two_ball_view.h"
#include "reach_random_scene.h"

namespace standpoint::test {
namespace {

/// A sheet of n x n squares square to the bundle, some way along it: `at(i, j)` says where.
template <class At>
Mesh sheet(std::size_t n, At&& at) {
  Mesh mesh;
  for (std::size_t i = 0; i <= n; ++i) {
    for (std::size_t j = 0; j <= n; ++j) mesh.vertices.push_back(at(i, j));
  }
  const auto vertex = [&](std::size_t i, std::size_t j) {
    return static_cast<std::uint32_t>(i * (n + 1) + j);
  };
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = 0; j < n; ++j) {
      const auto a = vertex(i, j), b = vertex(i + 1, j), c = vertex(i + 1, j + 1),
                 d = vertex(i, j + 1);
      mesh.triangles.push_back({a, b, c});
      mesh.triangles.push_back({a, c, d});
    }
  }
  return mesh;
}

/// A flat wall of 600 by 600 mm in squares of 60 mm, 500 mm from the origin, off the middle so that
/// the bundle's own axis runs along no edge.
Mesh flat_wall(double x = 500) {
  return sheet(10, [&](std::size_t i, std::size_t j) {
    return Vec3(x, 60.0 * static_cast<double>(i) - 290, 60.0 * static_cast<double>(j) - 310);
  });
}

/// Round the x axis, from the origin to a disc 1000 mm off.
BeamBundle bundle_of(double radius) {
  return {Vec3::UnitX(), 1000, radius};
}

bool is_hidden(const std::vector<Mesh>& bodies, const BeamBundle& bundle) {
  std::vector<const Mesh*> pointers;
  for (const Mesh& body : bodies) pointers.push_back(&body);
  const Tree tree(pointers);
  return ShadowSearch(tree, Vec3::Zero()).finds_one_over(bundle);
}

/// The triangle of the wall that the axis towards (1000, y, z) crosses.
std::size_t crossed(const Mesh& mesh, double y, double z) {
  const Tree tree({&mesh});
  return tree.nearest(RoundCone::capsule(Vec3::Zero(), {1000, y, z}, 0))->triangle.index;
}

TEST(ShadowSearch, AWallOfManyTrianglesHidesWhatIsWithinItsRim) {
  // Half way, so that the wall's rim, 290 mm off the axis, lies at 580 mm in the disc.
  EXPECT_TRUE(is_hidden({flat_wall()}, bundle_of(10)));
  EXPECT_TRUE(is_hidden({flat_wall()}, bundle_of(579)));
  EXPECT_FALSE(is_hidden({flat_wall()}, bundle_of(581)));
  EXPECT_FALSE(is_hidden({flat_wall(1001)}, bundle_of(10))) << "beyond the disc";
  EXPECT_FALSE(is_hidden({}, bundle_of(10)));
}

TEST(ShadowSearch, LargeTrianglesHideWhereverTheirCornersLie) {
  // Two triangles at a slant: from behind the station on one side to far beyond the disc.
  Mesh wall = sheet(1, [](std::size_t i, std::size_t j) {
    const double y = 9000.0 * static_cast<double>(i) - 4100;
    return Vec3(500 + 0.8 * y, y, 9000.0 * static_cast<double>(j) - 4300);
  });
  EXPECT_TRUE(is_hidden({wall}, bundle_of(500)));
  // Its plane goes through the disc at y = 625.
  EXPECT_FALSE(is_hidden({wall}, bundle_of(630)));
  // Cut along a line through the bundle, half of it hides only half.
  wall.triangles.pop_back();
  EXPECT_FALSE(is_hidden({wall}, bundle_of(500)));
}

TEST(ShadowSearch, AWallWithATriangleMissingHidesOnlyWhatItsHoleLeaves) {
  Mesh wall = flat_wall();
  wall.triangles.erase(wall.triangles.begin() +
                       static_cast<std::ptrdiff_t>(crossed(wall, 150, 150)));
  EXPECT_FALSE(is_hidden({wall}, bundle_of(220)));
  EXPECT_TRUE(is_hidden({wall}, bundle_of(80)));
}

TEST(ShadowSearch, AmongVeryManyTrianglesOnlySmallBundlesAreSearched) {
  const Mesh fine = cut_up(flat_wall(), 5);  // 204 800, half of them about the wide bundle
  EXPECT_FALSE(is_hidden({fine}, bundle_of(570)));
  EXPECT_TRUE(is_hidden({fine}, bundle_of(100)));
}

TEST(ShadowSearch, ASeamOfTwoBodiesOrOfUnjoinedVerticesIsTakenForAGap) {
  Mesh left = flat_wall(), right = left;
  std::erase_if(left.triangles, [&](const auto& t) { return left.vertices[t[0]].y() >= 60; });
  std::erase_if(right.triangles, [&](const auto& t) { return right.vertices[t[0]].y() < 60; });
  EXPECT_FALSE(is_hidden({left, right}, bundle_of(300)));
  EXPECT_TRUE(is_hidden({left, right}, bundle_of(100)));
  Mesh both = left;
  append(both, right);
  EXPECT_FALSE(is_hidden({both}, bundle_of(300)));
  join_equal_vertices(both);
  EXPECT_TRUE(is_hidden({both}, bundle_of(300)));
}

TEST(ShadowSearch, ASurfaceThroughTheDiscHidesNothing) {
  // On one side it leans back, through the disc at y = 385 and on to beyond the bundle.
  Mesh bent = flat_wall();
  for (Vec3& v : bent.vertices) {
    v.tail<2>() *= 3.5;
    v.x() += 1.3 * std::max(0.0, v.y());
  }
  EXPECT_FALSE(is_hidden({bent}, bundle_of(400)));
  EXPECT_TRUE(is_hidden({bent}, bundle_of(100)));
}

TEST(ShadowSearch, AClosedBodyHidesByItsNearFaceUnlessItLiesWithinTheBundle) {
  const Mesh large = box({300, -400, -410}, {700, 420, 400});
  EXPECT_TRUE(is_hidden({large}, bundle_of(500)));
  const Mesh small = box({300, -40, -41}, {700, 42, 40});
  EXPECT_FALSE(is_hidden({small}, bundle_of(500)));
  EXPECT_TRUE(is_hidden({small, large}, bundle_of(500)));
}

/// A sheet folded along lines that run across the bundle, level with z; where they are in x and y.
Mesh folded(const std::vector<Vec2>& x_and_y) {
  const std::size_t n = x_and_y.size() - 1;
  return sheet(n, [&](std::size_t i, std::size_t j) {
    const double z = 2000.0 * static_cast<double>(j) / static_cast<double>(n) - 970;
    return Vec3(x_and_y[i].x(), x_and_y[i].y(), z);
  });
}

TEST(ShadowSearch, APleatHidesAndAFoldThatCanBeSeenPastDoesNot) {
  // Seen from the origin the lines lie at y / x.
  const Mesh pleat = folded({{400, -300}, {450, 200}, {500, -200}, {550, 310}});
  EXPECT_TRUE(is_hidden({pleat}, bundle_of(500))) << "three layers, folded within the bundle";
  const Mesh fold = folded({{400, -400}, {450, 200}, {500, -500}});
  EXPECT_FALSE(is_hidden({fold}, bundle_of(500))) << "two layers, and nothing beside them";
  EXPECT_TRUE(is_hidden({fold}, bundle_of(400))) << "each layer hides by itself";
}

TEST(ShadowSearch, FindsOnlySurfacesThatBreakEveryAxis) {
  int hidden = 0, open = 0;
  for (std::uint64_t seed = 1; seed <= 6000; ++seed) {
    Draw draw(seed);
    const Vec3 station = draw.in_box(Vec3::Constant(-1000), Vec3::Constant(1000));
    BeamBundle bundle{draw.direction(), draw.between(500, 3000), 0};
    bundle.radius = bundle.length * draw.between(0.005, 0.5);
    const Vec3 across = bundle.along.unitOrthogonal(), up = bundle.along.cross(across);
    const auto at = [&](double depth, double x, double y) -> Vec3 {
      return station + depth * bundle.along + x * across + y * up;
    };
    // A sheet whose vertices are moved about, in places so far that it folds; with triangles taken
    // out, doubled and bent to other vertices.
    const std::size_t n = 2 + draw.below(9);
    const double share = draw.chance(0.1) ? draw.between(1e-4, 4e-3) : draw.between(0.05, 1.05);
    const double half = share * bundle.radius * draw.between(0.8, 3) * (draw.chance(0.3) ? 20 : 1);
    const double tilt = draw.chance(0.5) ? 0 : draw.between(-2, 2);
    const double fold = draw.chance(0.5) ? 0.3 : 1.5;
    Mesh mesh = sheet(n, [&](std::size_t i, std::size_t j) {
      const auto place = [&](std::size_t k) {
        return half *
               ((2 * static_cast<double>(k) + draw.between(-fold, fold)) / static_cast<double>(n) -
                1);
      };
      const double x = place(i), y = place(j);
      const double flat = draw.between(-fold, fold) * half * (half > 3 * bundle.radius ? 0.01 : 1);
      return at(share * bundle.length + flat + tilt * x, x, y);
    });
    std::vector<Vec3> holes;
    const double broken = draw.chance(0.5) ? 0 : 0.02;
    for (std::size_t k = mesh.triangles.size(); k-- > 0;) {
      const std::array<Vec3, 3> corners = mesh.corners(k);
      if (draw.chance(broken)) {
        holes.emplace_back((corners[0] + corners[1] + corners[2]) / 3);
        mesh.triangles.erase(mesh.triangles.begin() + static_cast<std::ptrdiff_t>(k));
      } else if (draw.chance(broken)) {
        mesh.triangles.push_back(mesh.triangles[k]);
      } else if (draw.chance(broken)) {
        holes.emplace_back((corners[0] + corners[1] + corners[2]) / 3);
        mesh.triangles[k][draw.below(3)] =
            static_cast<std::uint32_t>(draw.below(mesh.vertices.size()));
      }
    }
    const Tree tree({&mesh});
    if (!ShadowSearch(tree, station).finds_one_over(bundle)) {
      ++open;
      continue;
    }
    ++hidden;
    const auto expect_crossed = [&](const Vec3& on_disc) {
      const auto contact = tree.nearest(RoundCone::capsule(station, on_disc, 0));
      ASSERT_NEAR(contact->nearest.margin, 0, 1e-9) << "seed " << seed;
    };
    for (const Vec3& hole : holes) {
      const double depth = (hole - station).dot(bundle.along);
      const Vec3 on_disc = station + bundle.length / depth * (hole - station);
      if ((on_disc - at(bundle.length, 0, 0)).norm() < bundle.radius) expect_crossed(on_disc);
    }
    for (int i = 0; i < 40; ++i) {
      const double angle = draw.between(0, 360) * kDeg;
      const double radius = bundle.radius * (i % 4 == 0 ? 1 : std::sqrt(draw.between(0, 1)));
      expect_crossed(at(bundle.length, radius * std::cos(angle), radius * std::sin(angle)));
    }
  }
  EXPECT_GT(hidden, 1000);
  EXPECT_GT(open, 1000);
}

TEST(BeamBundle, EveryBeamCrossesTheDiscBeforeItsEnd) {
  int held = 0;
  for (std::uint64_t seed = 1; seed <= 400; ++seed) {
    Draw draw(seed);
    TwoBallStylus rod = two_ball_stylus();
    rod.ball_radius = draw.between(1, 80);
    const Vec3 tip = draw.in_box(Vec3::Constant(-500), Vec3::Constant(500));
    const Vec3 station = tip + draw.between(200, 3000) * draw.direction();
    const Instrument made = instrument();
    const TwoBallView view(made, rod, tip, station);
    const int level = static_cast<int>(draw.below(6));
    const auto patch = DirectionPatch::of_index(
        level, static_cast<std::uint32_t>(draw.below(DirectionPatch::count_at(level))));
    const bool is_whole = draw.chance(0.3);
    const auto bundle = is_whole ? view.bundle(1) : view.bundle(1, patch);
    if (!bundle) continue;
    ++held;
    ASSERT_LT(bundle->radius, bundle->length);
    for (int i = 0; i < 30; ++i) {
      Vec3 s = Vec3::Zero();
      for (const Vec3& corner : patch.corners()) s += draw.between(0, 1) * corner;
      s = is_whole ? draw.direction() : s.normalized();
      const Vec3 end = view.beam(1, s).end - station;
      const double depth = end.dot(bundle->along);
      ASSERT_GE(depth, bundle->length - 1e-9) << "seed " << seed;
      const Vec3 crossing = bundle->length / depth * end;
      ASSERT_LE((crossing - bundle->length * bundle->along).norm(), bundle->radius + 1e-9)
          << "seed " << seed;
    }
  }
  EXPECT_GT(held, 250);
}

}  // namespace
}  // namespace standpoint::test
