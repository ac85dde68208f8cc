// The estimate of scatter against scatter that was put in.

#include "planner/segmentation/mesh_noise.h"

#include <gtest/gtest.h>

#include "planner/segmentation/tolerances.h"
#include "tests/planner/segmentation/turned_mesh.h"

namespace standpoint {
namespace {

const std::vector<test::ProfilePoint> kRing = {{15, 0}, {40, 0}, {40, 25}, {15, 25}};

TEST(MeshScatter, IsThatWhichWasPutIn) {
  for (const double sigma : {0.01, 0.05, 0.2}) {
    for (const int pieces : {1, 4, 12}) {
      const Mesh mesh = test::scattered(test::turned(test::finer(kRing, pieces), 90), sigma, 17);
      const double found = estimate_scatter(join_triangles(mesh));
      EXPECT_GT(found, 0.7 * sigma) << sigma << " cut in " << pieces;
      EXPECT_LT(found, 1.6 * sigma) << sigma << " cut in " << pieces;
    }
  }
}

TEST(MeshScatter, CurvatureIsNone) {
  const Mesh ball = test::turned(test::arc(0, 0, 50, -90, 90, 12), 24);
  const JoinedMesh joined = join_triangles(ball);
  EXPECT_LT(estimate_scatter(joined), 0.01);
  EXPECT_GE(estimate_scatter(joined), tolerance::least_scatter(diagonal(joined)));
}

}  // namespace
}  // namespace standpoint
