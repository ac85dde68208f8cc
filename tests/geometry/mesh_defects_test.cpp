#include "geometry/mesh_defects.h"
#include "tests/draw.h"

#include <limits>
#include <map>
#include <set>

#include <gtest/gtest.h>

namespace standpoint {
namespace {

/// A box of the given size, each face two triangles, with corners shared.
Mesh box(const Vec3& size) {
  Mesh mesh;
  for (int i = 0; i < 8; ++i) {
    mesh.vertices.emplace_back((i & 1) * size.x(), (i >> 1 & 1) * size.y(), (i >> 2) * size.z());
  }
  mesh.triangles = {{0, 2, 1}, {1, 2, 3}, {4, 5, 6}, {5, 7, 6}, {0, 1, 4}, {1, 5, 4},
                    {2, 6, 3}, {3, 6, 7}, {0, 4, 2}, {2, 4, 6}, {1, 3, 5}, {3, 7, 5}};
  return mesh;
}

/// The same triangles with three vertices of its own each, as STL has them.
Mesh unjoined(const Mesh& mesh) {
  Mesh soup;
  for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
    const auto first = static_cast<std::uint32_t>(soup.vertices.size());
    for (const Vec3& corner : mesh.corners(i)) {
      soup.vertices.push_back(corner);
    }
    soup.triangles.push_back({first, first + 1, first + 2});
  }
  return soup;
}

void expect_defects(const Mesh& mesh, std::size_t open, std::size_t crowded, std::size_t duplicate,
                    std::size_t degenerate) {
  const MeshDefects d = find_defects(mesh);
  EXPECT_EQ(d.open_edges, open);
  EXPECT_EQ(d.crowded_edges, crowded);
  EXPECT_EQ(d.duplicate_triangles, duplicate);
  EXPECT_EQ(d.degenerate_triangles, degenerate);
  EXPECT_EQ(d.non_finite_vertices, 0U);
  EXPECT_EQ(d.any(), open + crowded + duplicate + degenerate > 0);
}

TEST(MeshDefects, ClosedBoxHasNone) {
  expect_defects(box({3, 2, 1}), 0, 0, 0, 0);
  expect_defects(unjoined(box({3, 2, 1})), 0, 0, 0, 0);
  expect_defects(Mesh{}, 0, 0, 0, 0);
}

TEST(MeshDefects, BoxWithoutLidIsOpenAtFourEdges) {
  Mesh mesh = box({3, 2, 1});
  mesh.triangles.erase(mesh.triangles.begin() + 2, mesh.triangles.begin() + 4);  // z = 1
  expect_defects(mesh, 4, 0, 0, 0);
  expect_defects(unjoined(mesh), 4, 0, 0, 0);
}

TEST(MeshDefects, MinusZeroIsZero) {
  Mesh mesh = unjoined(box({3, 2, 1}));
  for (std::size_t i = 0; i < mesh.vertices.size(); i += 2) {
    for (double& x : mesh.vertices[i]) {
      x = x == 0 ? -0.0 : x;
    }
  }
  expect_defects(mesh, 0, 0, 0, 0);
}

TEST(MeshDefects, PlacesOneBitApartAreTwoPlaces) {
  Mesh mesh = unjoined(box({3, 2, 1}));
  mesh.vertices[0].x() = std::numeric_limits<double>::denorm_min();
  // The corner moved belongs to one triangle, whose two sides there lose their neighbours, and
  // those lose theirs.
  expect_defects(mesh, 4, 0, 0, 0);
}

TEST(MeshDefects, RepeatedTriangleCountsOnceForEachRepetitionInAnyOrder) {
  Mesh mesh = box({3, 2, 1});
  mesh.triangles.push_back({2, 1, 0});  // the first, the other way round
  mesh.triangles.push_back({1, 0, 2});  // and again, begun elsewhere
  expect_defects(mesh, 0, 3, 2, 0);     // its three edges now have four triangles each
}

TEST(MeshDefects, WallInsideABoxCrowdsTheEdgesItMeets) {
  Mesh mesh = box({3, 2, 1});
  mesh.triangles.push_back({0, 1, 7});  // 0-1 is an edge of two; 1-7 and 7-0 run free inside
  expect_defects(mesh, 2, 1, 0, 0);
}

TEST(MeshDefects, SliverHasAreaAndIsNoDefect) {
  Mesh mesh;
  mesh.vertices = {{0, 0, 0}, {1000, 0, 0}, {500, 1e-9, 0}};
  mesh.triangles = {{0, 1, 2}};
  expect_defects(mesh, 3, 0, 0, 0);
}

TEST(MeshDefects, NeedleWithThreePlacesInLineIsDegenerateWhereverItPoints) {
  test::Draw draw(7);
  for (int trial = 0; trial < 1000; ++trial) {
    const Vec3 from = draw.in_box(1000), to = draw.in_box(1000);
    const double t = draw.between(0, 1);
    Mesh mesh;
    mesh.vertices = {from, to, from + t * (to - from)};
    mesh.triangles = {{0, 1, 2}};
    EXPECT_EQ(find_defects(mesh).degenerate_triangles, 1U) << "seed 7, trial " << trial;
  }
}

TEST(MeshDefects, CollapsedTriangleIsDegenerateAndHasNoEdges) {
  Mesh mesh = box({3, 2, 1});
  mesh.triangles.push_back({0, 0, 7});
  mesh.vertices.push_back(mesh.vertices[7]);
  mesh.triangles.push_back({7, 2, 8});
  mesh.triangles.push_back({5, 5, 5});
  expect_defects(mesh, 0, 0, 0, 3);
}

// The long edge of one side meets two short ones of the other: a crack without width. A degenerate
// triangle that joins the three closes it.
TEST(MeshDefects, TEdgeIsOpenUntilAFlatTriangleClosesIt) {
  Mesh mesh = box({2, 2, 2});
  mesh.vertices.emplace_back(1, 0, 0);  // on the edge 0-1
  mesh.triangles[0] = {0, 2, 8};        // was {0, 2, 1}
  mesh.triangles.push_back({8, 2, 1});
  expect_defects(mesh, 3, 0, 0, 0);  // 0-8, 8-1 on one side, 0-1 on the other
  mesh.triangles.push_back({0, 8, 1});
  expect_defects(mesh, 0, 0, 0, 1);
}

TEST(MeshDefects, VerticesThatAreNotFiniteAreCountedAndDoNoHarm) {
  Mesh mesh = box({3, 2, 1});
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const double infinity = std::numeric_limits<double>::infinity();
  mesh.vertices[0].x() = nan;
  mesh.vertices[7] = Vec3(infinity, -infinity, nan);
  mesh.vertices.emplace_back(0, nan, 0);  // of no triangle
  EXPECT_EQ(find_defects(mesh).non_finite_vertices, 3U);
}

struct ByHand {
  std::size_t open = 0, crowded = 0, duplicate = 0;
};

using Place = std::array<double, 3>;
Place place_of(const Vec3& v) {
  return {v.x(), v.y(), v.z()};
}

/// Ordered sets of places: nothing in common with the counting under test.
ByHand counted_by_hand(const Mesh& mesh) {
  std::map<std::set<Place>, std::size_t> edges;
  std::map<std::set<Place>, std::size_t> triangles;
  ByHand result;
  for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
    const auto c = mesh.corners(i);
    const std::multiset<Place> all = {place_of(c[0]), place_of(c[1]), place_of(c[2])};
    const std::set<Place> places(all.begin(), all.end());
    if (places.size() == 3) {
      result.duplicate += triangles[places]++ > 0 ? 1 : 0;
      for (std::size_t k = 0; k < 3; ++k) {
        ++edges[{place_of(c[k]), place_of(c[(k + 1) % 3])}];
      }
    }
  }
  for (const auto& [edge, count] : edges) {
    result.open += count == 1 ? 1 : 0;
    result.crowded += count >= 3 ? 1 : 0;
  }
  return result;
}

TEST(MeshDefects, RandomSoupOnAGridIsCountedAsByHand) {
  for (std::uint64_t seed = 1; seed <= 50; ++seed) {
    test::Draw draw(seed);
    const std::size_t steps = seed % 2 == 0 ? 3 : 6;
    const auto step = [&] { return 0.1 * static_cast<double>(draw.below(steps)); };
    Mesh mesh;
    for (std::uint32_t i = 0; i < 300; ++i) {
      const std::uint32_t first = 3 * i;
      do {  // collapsed triangles are tested above; whether they are duplicates is a matter of
            // taste
        mesh.vertices.resize(first);
        for (int k = 0; k < 3; ++k) {
          const double x = step(), y = step();
          mesh.vertices.emplace_back(x, y, step());
        }
      } while (mesh.vertices[first] == mesh.vertices[first + 1] ||
               mesh.vertices[first + 1] == mesh.vertices[first + 2] ||
               mesh.vertices[first + 2] == mesh.vertices[first]);
      mesh.triangles.push_back({first, first + 1, first + 2});
    }
    const ByHand expected = counted_by_hand(mesh);
    const MeshDefects found = find_defects(mesh);
    EXPECT_EQ(found.open_edges, expected.open) << "seed " << seed;
    EXPECT_EQ(found.crowded_edges, expected.crowded) << "seed " << seed;
    EXPECT_EQ(found.duplicate_triangles, expected.duplicate) << "seed " << seed;
  }
}

}  // namespace
}  // namespace standpoint
