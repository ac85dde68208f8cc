// The verdict alone against the verdict in full, and both against the rule of contract section 3,
// applied to every touch and target by itself, on random small scenes.

#include <gtest/gtest.h>

#include <algorithm>

#include "planner/reach/element.h"
#include "planner/reach/feature_reach.h"
#include "planner/reach/nest_reach.h"
#include "reach_probe.h"
#include "reach_random_scene.h"

namespace standpoint::test {
namespace {

/// How one target takes one feature one way: which touches it reaches, and its smallest margin.
struct Way1 {
  bool is_enough = false;
  double margin = std::numeric_limits<double>::infinity();
};

/// Contract section 3, "A feature is judged", with nothing remembered, skipped or shared: every
/// touch is asked of a target that was made for it alone.
std::vector<Way1> ways_of(const Cell& cell, const Feature& feature, TargetId target,
                          const Vec3& station) {
  std::vector<Way1> ways;
  const double radius = touching_radius(cell.scene(), target);
  for (const TouchSet& set : touch_sets(feature, radius, cell.scene().rules)) {
    Way1 way;
    std::vector<bool> is_taken;
    for (const Touch& touch : set.touches) {
      TargetAt at = make_target_at(cell, target, place_of(touch));
      const Outcome outcome = look(at, station);
      is_taken.push_back(reached(outcome) != nullptr);
      if (is_taken.back()) way.margin = std::min(way.margin, reached(outcome)->margin);
    }
    way.is_enough = is_enough(feature, set, is_taken);
    ways.push_back(way);
  }
  return ways;
}

struct Expected {
  Verdict verdict = Verdict::blocked;
  std::optional<TargetId> target;
  double margin = 0;
};

Expected expected_mark(const Cell& cell, const Feature& feature, const Vec3& station) {
  const Scene& scene = cell.scene();
  Expected best;
  for (std::size_t t = 0; t < target_count(scene); ++t) {
    const TargetId target(t);
    const bool is_allowed = feature.targets.empty() ||
                            std::count(feature.targets.begin(), feature.targets.end(), target) > 0;
    if (!is_allowed) continue;
    const auto ways = ways_of(cell, feature, target, station);
    const auto way =
        std::find_if(ways.begin(), ways.end(), [](const Way1& w) { return w.is_enough; });
    if (way == ways.end()) continue;
    const Verdict verdict =
        is_full_target(scene, target) ? Verdict::full_target : Verdict::offset_stylus;
    if (verdict < best.verdict || (verdict == best.verdict && way->margin > best.margin)) {
      best = {verdict, target, way->margin};
    }
  }
  return best;
}

/// Some features made harder or easier to take than by default.
void vary(MadeScene& scene, Draw& draw) {
  for (Feature& feature : scene.features) {
    if (draw.chance(0.3)) feature.enough_touches = 1 + static_cast<int>(draw.below(5));
    if (draw.chance(0.2)) feature.targets = {TargetId(draw.below(target_count(scene)))};
  }
}

TEST(ReachVerdicts, FollowTheContractsRuleOnRandomScenes) {
  std::array<int, 3> seen{};
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    Draw draw(seed);
    MadeScene scene = random_scene(draw, {0.15, 8});
    vary(scene, draw);
    const Cell cell = cell_of(scene);
    const Vec3 station = random_station(draw);
    for (std::size_t f = 0; f < scene.features.size(); ++f) {
      SCOPED_TRACE(testing::Message() << "seed " << seed << ", " << scene.features[f].name);
      const Expected expected = expected_mark(cell, scene.features[f], station);
      const FeatureMark mark = judge_feature(cell, station, FeatureId(f));
      ASSERT_EQ(mark.verdict, expected.verdict);
      ASSERT_EQ(mark.target, expected.target);
      if (expected.target) {
        ASSERT_EQ(*mark.margin, expected.margin);
      }
      ASSERT_EQ(FeatureReach(cell, FeatureId(f)).verdict(station), expected.verdict);
      ++seen[static_cast<std::size_t>(mark.verdict)];
    }
  }
  for (const int count : seen) EXPECT_GT(count, 20);
}

TEST(ReachVerdicts, DoNotDependOnWhatWasAskedBefore) {
  for (std::uint64_t seed = 100; seed < 114; ++seed) {
    Draw draw(seed);
    MadeScene scene = random_scene(draw, {0.7, 8});
    vary(scene, draw);
    const Cell cell = cell_of(scene);
    std::vector<Stance> stations;
    for (int i = 0; i < 7; ++i) stations.push_back(random_station(draw));
    for (std::size_t f = 0; f < scene.features.size(); ++f) {
      SCOPED_TRACE(testing::Message() << "seed " << seed << ", " << scene.features[f].name);
      std::vector<Verdict> fresh;
      for (const Stance& station : stations) {
        fresh.push_back(FeatureReach(cell, FeatureId(f)).verdict(station));
      }
      ASSERT_EQ(FeatureReach(cell, FeatureId(f)).verdicts(stations), fresh) << "all at once";
      FeatureReach forwards(cell, FeatureId(f)), backwards(cell, FeatureId(f));
      for (std::size_t i = 0; i < stations.size(); ++i) {
        ASSERT_EQ(forwards.verdict(stations[i]), fresh[i]) << "station " << i;
        const std::size_t j = stations.size() - 1 - i;
        ASSERT_EQ(backwards.verdict(stations[j]), fresh[j]) << "station " << j << ", backwards";
      }
      // The long answer after many short ones, and asked twice.
      const FeatureMark first = judge_feature(cell, stations[0], FeatureId(f));
      for (const FeatureMark& again : {backwards.mark(stations[0]), backwards.mark(stations[0])}) {
        ASSERT_EQ(again.verdict, fresh[0]);
        ASSERT_EQ(again.target, first.target);
        ASSERT_EQ(again.margin, first.margin);
      }
    }
  }
}

TEST(ReachVerdicts, OfNestsAreThoseOfTheirBestTarget) {
  std::array<int, 3> seen{};
  for (std::uint64_t seed = 200; seed < 320; ++seed) {
    Draw draw(seed);
    const MadeScene scene = random_scene(draw, {0.3, 8});
    const Cell cell = cell_of(scene);
    for (std::size_t n = 0; n < scene.nests.size(); ++n) {
      NestReach reach(cell, scene.nests[n]);
      for (int i = 0; i < 3; ++i) {
        const Vec3 station = random_station(draw);
        SCOPED_TRACE(testing::Message() << "seed " << seed << ", nest " << n << ", station " << i);
        Expected expected;
        for (std::size_t t = 0; t < target_count(scene); ++t) {
          const Outcome outcome = look_at(scene, t, place_of(scene.nests[n]), station);
          if (reached(outcome) == nullptr) continue;
          const Verdict verdict =
              is_full_target(scene, TargetId(t)) ? Verdict::full_target : Verdict::offset_stylus;
          const double margin = reached(outcome)->margin;
          if (verdict < expected.verdict ||
              (verdict == expected.verdict && margin > expected.margin)) {
            expected = {verdict, TargetId(t), margin};
          }
        }
        const TouchMark mark = reach.mark(station);
        ASSERT_EQ(mark.verdict, expected.verdict);
        ASSERT_EQ(reach.verdict(station), expected.verdict);
        ASSERT_EQ(mark.best.has_value(), expected.target.has_value());
        if (mark.best) {
          ASSERT_EQ(mark.best->target, *expected.target);
          ASSERT_EQ(*mark.margin, expected.margin);
          ASSERT_TRUE(mark.causes.empty());
        } else {
          ASSERT_EQ(mark.causes.size(), target_count(scene)) << "one for each target tried";
        }
        ++seen[static_cast<std::size_t>(mark.verdict)];
      }
    }
  }
  for (const int count : seen) EXPECT_GT(count, 20);
}

}  // namespace
}  // namespace standpoint::test
