// A triangle whose plane is said to keep it off a cone must be that far off, however thin it is.

#include <gtest/gtest.h>

#include <algorithm>

#include "geometry/round_cone.h"
#include "geometry/tolerances.h"
#include "random_scene.h"

namespace standpoint::test {
namespace {

TEST(BeyondPlane, ATrianglesMarginIsNoLessThanItsPlaneShows) {
  int shown = 0, shown_nearly_all = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    for (int s = 0; s < static_cast<int>(SceneKind::kCount); ++s) {
      for (int b = 0; b < static_cast<int>(BeamKind::kCount); ++b) {
        Draw draw(seed * 1000 + static_cast<std::uint64_t>(s * 20 + b));
        const std::vector<Mesh> scene = make_scene(static_cast<SceneKind>(s), 40, draw);
        const RoundCone beam = make_beam(static_cast<BeamKind>(b), scene, draw);
        for (const Mesh& mesh : scene) {
          for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
            const auto corners = mesh.corners(i);
            double reach =
                std::max(beam.start.cwiseAbs().maxCoeff(), beam.end.cwiseAbs().maxCoeff());
            for (const Vec3& c : corners) reach = std::max(reach, c.cwiseAbs().maxCoeff());
            const double margin = nearest_on_triangle(beam, corners).margin;
            const double error = tolerance::margin_error(reach);
            // The computed margin is off by less than the error bound.
            ASSERT_FALSE(is_surely_beyond_plane(beam, corners, margin + 1.01 * error))
                << "seed " << seed << ", scene " << s << ", beam " << b << ", triangle " << i;
            const double less = margin - draw.size(1e-6, 100);
            shown += is_surely_beyond_plane(beam, corners, less) ? 1 : 0;
            shown_nearly_all += is_surely_beyond_plane(beam, corners, margin - 1e-6) ? 1 : 0;
          }
        }
      }
    }
  }
  EXPECT_GT(shown, 3000);
  EXPECT_GT(shown_nearly_all, 300) << "where the nearest point lies inside, the plane tells it all";
}

}  // namespace
}  // namespace standpoint::test
