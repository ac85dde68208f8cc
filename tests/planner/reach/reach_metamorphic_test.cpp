// What must not change, or may change only one way, when the scene is changed: no value is
// expected, so that no oracle is needed.

#include <gtest/gtest.h>

#include <cmath>

#include "planner/reach/feature_reach.h"
#include "reach_probe.h"
#include "reach_random_scene.h"

namespace standpoint::test {
namespace {

/// A random touch of a random feature with one target.
struct Case {
  MadeScene scene;
  std::size_t target = 0;
  Place place;
  Vec3 station;
};

Case random_case(Draw& draw, double two_ball_chance = 0.4) {
  Case made;
  made.scene = random_scene(draw, {two_ball_chance, 10});
  made.station = random_station(draw);
  for (;;) {
    made.target = draw.below(target_count(made.scene));
    const Feature& feature = made.scene.features[draw.below(made.scene.features.size())];
    const auto sets =
        touch_sets(feature, touching_radius(made.scene, TargetId(made.target)), made.scene.rules);
    if (sets.empty()) continue;
    const TouchSet& set = sets[draw.below(sets.size())];
    made.place = place_of(set.touches[draw.below(set.touches.size())]);
    return made;
  }
}

Outcome look(const Case& c) {
  return look_at(c.scene, c.target, c.place, c.station);
}

/// Whether the answer rests on the grid of directions: it turns with nothing.
bool rests_on_grid(const Case& c, const Outcome& outcome) {
  if (is_full_target(c.scene, TargetId(c.target))) return false;
  const bool is_mirror =
      std::holds_alternative<MirrorStylus>(offset_stylus(c.scene, TargetId(c.target)));
  if (!is_mirror) return true;
  const Vec3 straight = (c.station - c.place.optical_centre).normalized();
  if (const Reached* how = reached(outcome)) return *how->shank_direction != straight;
  return rule(outcome) == Rule::shank || rule(outcome) == Rule::head;
}

Case moved_case(Case c, const Pose& pose) {
  c.scene = moved(std::move(c.scene), pose);
  c.station = pose * c.station;
  c.place.optical_centre = pose * c.place.optical_centre;
  c.place.normal = pose.linear() * c.place.normal;
  return c;
}

TEST(ReachMetamorphic, TurningAboutTheVerticalAndShiftingAllChangesNothing) {
  int compared = 0, reaching = 0;
  for (std::uint64_t seed = 1; seed <= 1500; ++seed) {
    Draw draw(seed);
    const Case c = random_case(draw);
    const Outcome here = look(c);
    if (rests_on_grid(c, here)) continue;
    const Pose pose = Eigen::Translation3d(draw.in_box(Vec3::Constant(-2e4), Vec3::Constant(2e4))) *
                      Eigen::AngleAxisd(draw.between(0, 6.28), Vec3::UnitZ());
    const Outcome there = look(moved_case(c, pose));
    const auto margin_of_outcome = [](const Outcome& outcome) {
      return reached(outcome) ? std::optional(reached(outcome)->margin) : cause(outcome)->margin;
    };
    const auto before = margin_of_outcome(here), after = margin_of_outcome(there);
    // At a threshold rounding may decide: then the margins still agree.
    ASSERT_EQ(rule(here), rule(there)) << "seed " << seed;
    ASSERT_EQ(before.has_value(), after.has_value()) << "seed " << seed;
    if (before && !std::isinf(*before)) {
      ASSERT_NEAR(*before, *after, 1e-7) << "seed " << seed;
    }
    ++compared;
    reaching += reached(here) != nullptr;
  }
  EXPECT_GT(compared, 800);
  EXPECT_GT(reaching, 250);
}

TEST(ReachMetamorphic, ShiftingAllChangesNothingForAnyTarget) {
  // A shift leaves the grid of directions as it is: two-ball styli too.
  for (std::uint64_t seed = 2000; seed < 2300; ++seed) {
    Draw draw(seed);
    const Case c = random_case(draw, 1);
    const Outcome here = look(c);
    // Whole millimetres in binary: hardly a rounding changes.
    const Vec3 shift(1024.0 * static_cast<double>(draw.below(9)), -2048, 512);
    const Outcome there = look(moved_case(c, Pose(Eigen::Translation3d(shift))));
    ASSERT_EQ(rule(here), rule(there)) << "seed " << seed;
    if (reached(here) && !std::isinf(reached(here)->margin)) {
      ASSERT_NEAR(reached(here)->margin, reached(there)->margin, 1e-7) << "seed " << seed;
    }
  }
}

TEST(ReachMetamorphic, AThickerBeamNeverUnblocksAndAThinnerNeverBlocks) {
  int changed = 0;
  for (std::uint64_t seed = 3000; seed < 3600; ++seed) {
    Draw draw(seed);
    Case c = random_case(draw);
    const bool was_reached = reached(look(c)) != nullptr;
    c.scene.instrument.beam_diameter += draw.between(0, 30);
    c.scene.instrument.beam_growth_rad += draw.between(0, 5e-3);
    const bool is_reached = reached(look(c)) != nullptr;
    ASSERT_TRUE(was_reached || !is_reached) << "seed " << seed;
    changed += was_reached != is_reached;
  }
  EXPECT_GT(changed, 20);
}

TEST(ReachMetamorphic, AddingABodyNeverUnblocksNorGivesMargin) {
  int changed = 0;
  for (std::uint64_t seed = 4000; seed < 4600; ++seed) {
    Draw draw(seed);
    Case c = random_case(draw);
    const Outcome before = look(c);
    // Somewhere between the station and the touch, or near the touch.
    const double share = draw.chance(0.5) ? draw.between(0, 1) : draw.between(0, 0.1);
    const Vec3 at = c.place.optical_centre + share * (c.station - c.place.optical_centre) +
                    draw.in_box(Vec3::Constant(-80), Vec3::Constant(80));
    const Vec3 half = draw.in_box(Vec3::Constant(1), Vec3::Constant(60));
    add_body(c.scene, "added", box(at - half, at + half));
    const Outcome after = look(c);
    ASSERT_TRUE(reached(before) || !reached(after)) << "seed " << seed;
    if (reached(before) && reached(after)) {
      // Of a rod's directions that rounding cannot tell apart either may be told.
      ASSERT_LE(reached(after)->margin, reached(before)->margin + 1e-9) << "seed " << seed;
    }
    changed += (reached(before) != nullptr) != (reached(after) != nullptr);
  }
  EXPECT_GT(changed, 40);
}

TEST(ReachMetamorphic, RemovingABodyNeverBlocksAFeature) {
  int changed = 0;
  for (std::uint64_t seed = 5000; seed < 5080; ++seed) {
    Draw draw(seed);
    MadeScene scene = random_scene(draw, {0.3, 10});
    const Vec3 station = random_station(draw);
    const Cell whole = cell_of(scene);
    std::vector<Verdict> before;
    for (std::size_t f = 0; f < scene.features.size(); ++f) {
      before.push_back(FeatureReach(whole, FeatureId(f)).verdict(station));
    }
    MadeScene less = scene;
    const auto removed = static_cast<std::ptrdiff_t>(draw.below(scene.bodies.size()));
    less.bodies.erase(less.bodies.begin() + removed);
    less.meshes.erase(less.meshes.begin() + removed);
    const Cell cell = cell_of(less);
    for (std::size_t f = 0; f < scene.features.size(); ++f) {
      const Verdict after = FeatureReach(cell, FeatureId(f)).verdict(station);
      ASSERT_LE(after, before[f]) << "seed " << seed << ", " << scene.features[f].name;
      changed += after != before[f];
    }
  }
  EXPECT_GT(changed, 10);
}

TEST(ReachMetamorphic, OrderOfBodiesAndSplittingTrianglesChangeNothing) {
  for (std::uint64_t seed = 6000; seed < 6200; ++seed) {
    Draw draw(seed);
    const Case c = random_case(draw);
    const Outcome before = look(c);
    Case other = c;
    std::reverse(other.scene.bodies.begin(), other.scene.bodies.end());
    std::reverse(other.scene.meshes.begin(), other.scene.meshes.end());
    for (std::size_t b = 0; b < other.scene.bodies.size(); ++b) {
      const Mesh& whole = *other.scene.meshes[b];
      Mesh split = whole;
      split.triangles.clear();
      for (const auto& t : whole.triangles) {
        const Vec3 middle =
            (whole.vertices[t[0]] + whole.vertices[t[1]] + whole.vertices[t[2]]) / 3;
        const auto m = static_cast<std::uint32_t>(split.vertices.size());
        split.vertices.push_back(middle);
        for (int k = 0; k < 3; ++k) split.triangles.push_back({t[k], t[(k + 1) % 3], m});
      }
      other.scene.reshape(BodyId(b), std::move(split));
    }
    const Outcome after = look(other);
    ASSERT_EQ(rule(before), rule(after)) << "seed " << seed;
    if (reached(before) && !std::isinf(reached(before)->margin)) {
      ASSERT_NEAR(reached(before)->margin, reached(after)->margin, 1e-7) << "seed " << seed;
    }
    if (cause(before) && cause(before)->rule == Rule::beam) {
      ASSERT_NEAR(*cause(before)->margin, *cause(after)->margin, 1e-7) << "seed " << seed;
      ASSERT_NEAR(*cause(before)->distance, *cause(after)->distance, 1e-3) << "seed " << seed;
    }
  }
}

}  // namespace
}  // namespace standpoint::test
