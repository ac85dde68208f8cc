#include <gtest/gtest.h>

#include <numeric>

#include "geometry/tolerances.h"
#include "geometry/tree/tree.h"
#include "tests/geometry/margin_oracle.h"
#include "tests/geometry/random_scene.h"

namespace standpoint::test {
namespace {

/// Calls `look(scene, beam, bound, draw)` for many scenes and beams; `bound` covers the rounding of
/// both answers and of the change between them.
template <class Look>
void for_each_case(Look&& look) {
  for (int s = 0; s < static_cast<int>(SceneKind::kCount); ++s) {
    const auto kind = static_cast<SceneKind>(s);
    Draw draw(4000 + static_cast<std::uint64_t>(s));
    const std::vector<Mesh> scene = make_scene(kind, 300, draw);
    for (int b = 0; b < 8 * static_cast<int>(BeamKind::kCount); ++b) {
      const auto beam_kind = static_cast<BeamKind>(b % static_cast<int>(BeamKind::kCount));
      SCOPED_TRACE(testing::Message() << "seed " << 4000 + s << ", scene: " << name_of(kind)
                                      << ", beam " << b << ": " << name_of(beam_kind));
      const RoundCone beam = make_beam(beam_kind, scene, draw);
      look(scene, beam, tolerance::margin_error(10 * reach_of(beam, scene)), draw);
      if (testing::Test::HasFailure()) return;
    }
  }
}

double margin_of(const std::vector<Mesh>& scene, const RoundCone& beam) {
  return Tree(pointers(scene)).nearest(beam)->nearest.margin;
}

template <class Change>
std::vector<Mesh> moved(std::vector<Mesh> scene, Change&& change) {
  for (Mesh& mesh : scene) {
    for (Vec3& v : mesh.vertices) v = change(v);
  }
  return scene;
}

TEST(TreeUnchanged, ByARigidMotion) {
  for_each_case([](const auto& scene, const RoundCone& beam, double bound, Draw& draw) {
    Pose pose = Pose::Identity();
    pose.rotate(Eigen::AngleAxisd(draw.between(0, 3), draw.direction()));
    pose.pretranslate(draw.in_box(5000));
    const auto change = [&](const Vec3& v) { return Vec3(pose * v); };
    const RoundCone turned{change(beam.start), change(beam.end), beam.start_radius,
                           beam.end_radius};
    ASSERT_NEAR(margin_of(moved(scene, change), turned), margin_of(scene, beam), bound);
  });
}

TEST(TreeUnchanged, ByScale) {
  for_each_case([](const auto& scene, const RoundCone& beam, double bound, Draw& draw) {
    const double k = draw.chance(0.5) ? 1024 : draw.size(0.01, 10);
    const auto change = [&](const Vec3& v) { return Vec3(k * v); };
    const RoundCone scaled{k * beam.start, k * beam.end, k * beam.start_radius,
                           k * beam.end_radius};
    ASSERT_NEAR(margin_of(moved(scene, change), scaled) / k, margin_of(scene, beam), bound);
  });
}

TEST(TreeUnchanged, ByTheOrderOfTriangles) {
  for_each_case([](const auto& scene, const RoundCone& beam, double, Draw& draw) {
    std::vector<Mesh> shuffled = scene;
    for (Mesh& mesh : shuffled) {
      for (std::size_t i = mesh.triangles.size(); i > 1; --i) {
        std::swap(mesh.triangles[i - 1], mesh.triangles[draw.below(i)]);
      }
    }
    // The same triangles in double: the same bits.
    ASSERT_EQ(margin_of(shuffled, beam), margin_of(scene, beam));
  });
}

TEST(TreeUnchanged, BySplittingTriangles) {
  for_each_case([](const auto& scene, const RoundCone& beam, double bound, Draw& draw) {
    std::vector<Mesh> split = scene;
    for (Mesh& mesh : split) {
      const std::size_t before = mesh.triangles.size();
      for (std::size_t i = 0; i < before; ++i) {
        const auto [a, b, c] = mesh.triangles[i];
        const Vec3 on_edge =
            mesh.vertices[a] + draw.between(0, 1) * (mesh.vertices[b] - mesh.vertices[a]);
        const auto d = static_cast<std::uint32_t>(mesh.vertices.size());
        mesh.vertices.push_back(on_edge);
        mesh.triangles[i] = {a, d, c};
        mesh.triangles.push_back({d, b, c});
      }
    }
    ASSERT_NEAR(margin_of(split, beam), margin_of(scene, beam), bound);
  });
}

TEST(TreeUnchanged, ByTurningTrianglesOver) {
  for_each_case([](const auto& scene, const RoundCone& beam, double bound, Draw&) {
    std::vector<Mesh> turned = scene;
    for (Mesh& mesh : turned) {
      for (auto& t : mesh.triangles) std::swap(t[0], t[2]);
    }
    ASSERT_NEAR(margin_of(turned, beam), margin_of(scene, beam), bound);
  });
}

TEST(TreeUnchanged, ByReversingTheBeam) {
  for_each_case([](const auto& scene, const RoundCone& beam, double bound, Draw&) {
    const RoundCone back{beam.end, beam.start, beam.end_radius, beam.start_radius};
    ASSERT_NEAR(margin_of(scene, back), margin_of(scene, beam), bound);
  });
}

TEST(TreeMonotone, WideningABeamNeverUnblocksIt) {
  for_each_case([](const auto& scene, const RoundCone& beam, double bound, Draw& draw) {
    const Tree tree(pointers(scene));
    const double wider = draw.between(0, 5);
    const RoundCone wide{beam.start, beam.end, beam.start_radius + wider, beam.end_radius + wider};
    ASSERT_NEAR(tree.nearest(wide)->nearest.margin, tree.nearest(beam)->nearest.margin - wider,
                bound);
    if (!tree.is_clear(beam, 0)) {
      ASSERT_FALSE(tree.is_clear(wide, 0));
    }
  });
}

TEST(TreeMonotone, AskingForMoreNeverUnblocks) {
  for_each_case([](const auto& scene, const RoundCone& beam, double, Draw& draw) {
    const Tree tree(pointers(scene));
    bool was_clear = true;
    double margin = -20;
    for (int i = 0; i < 10; ++i) {
      const bool is_clear = tree.is_clear(beam, margin);
      ASSERT_TRUE(was_clear || !is_clear) << "margin " << margin;
      was_clear = is_clear;
      margin += draw.size(1e-9, 100);
    }
  });
}

TEST(TreeMonotone, AddingTrianglesNeverUnblocks) {
  for_each_case([](const auto& scene, const RoundCone& beam, double, Draw& draw) {
    std::vector<Mesh> more = scene;
    more.push_back(make_scene(SceneKind::kSoup, 40, draw).front());
    ASSERT_LE(margin_of(more, beam), margin_of(scene, beam));
  });
}

}  // namespace
}  // namespace standpoint::test
