// Places that are only tried are looked at without causes: all else must be as a full look tells
// it.

#include <gtest/gtest.h>

#include "planner/reach/sight.h"
#include "reach_random_scene.h"

namespace standpoint::test {
namespace {

void expect_same(const std::optional<Reached>& a, const std::optional<Reached>& b) {
  ASSERT_EQ(a.has_value(), b.has_value());
  if (!a) return;
  EXPECT_EQ(a->target, b->target);
  EXPECT_EQ(a->margin, b->margin);
  EXPECT_EQ(a->shank_direction, b->shank_direction);
  EXPECT_EQ(a->beam_ends, b->beam_ends);
  EXPECT_EQ(a->optical_centre, b->optical_centre);
}

void expect_same(const TouchMark& brief, const TouchMark& full) {
  EXPECT_EQ(brief.at, full.at);
  EXPECT_EQ(brief.normal, full.normal);
  EXPECT_EQ(brief.optical_centre, full.optical_centre);
  ASSERT_EQ(brief.verdict, full.verdict);
  expect_same(brief.best, full.best);
  EXPECT_TRUE(brief.causes.empty());
  if (full.verdict != Verdict::blocked) {
    EXPECT_EQ(brief.margin, full.margin);
  } else {
    EXPECT_FALSE(brief.margin);
  }
}

TEST(LookWithoutCauses, TellsAllElseAsAFullLookDoes) {
  int causes = 0, reached = 0;
  for (std::uint64_t seed = 900; seed < 940; ++seed) {
    Draw draw(seed);
    const MadeScene scene = random_scene(draw, {0.6, 10});
    const Cell cell = cell_of(scene);
    const Vec3 station = random_station(draw);
    const Sight full = look_from(cell, station), brief = look_without_causes(cell, station);
    SCOPED_TRACE(testing::Message() << "seed " << seed);
    ASSERT_EQ(brief.at, full.at);
    ASSERT_EQ(brief.features.size(), full.features.size());
    ASSERT_EQ(brief.nests.size(), full.nests.size());
    for (std::size_t f = 0; f < full.features.size(); ++f) {
      SCOPED_TRACE(scene.features[f].name);
      const FeatureMark &a = brief.features[f], &b = full.features[f];
      EXPECT_EQ(a.feature, b.feature);
      ASSERT_EQ(a.verdict, b.verdict);
      EXPECT_EQ(a.target, b.target);
      EXPECT_EQ(a.way, b.way);
      if (b.verdict != Verdict::blocked) {
        EXPECT_EQ(a.margin, b.margin);
      } else {
        EXPECT_FALSE(a.margin);
      }
      ASSERT_EQ(a.touches.size(), b.touches.size());
      ASSERT_EQ(a.by_target.size(), b.by_target.size());
      for (std::size_t i = 0; i < a.touches.size(); ++i) {
        expect_same(a.touches[i], b.touches[i]);
        expect_same(a.by_target[i], b.by_target[i]);
        causes += static_cast<int>(b.touches[i].causes.size());
        reached += b.touches[i].verdict != Verdict::blocked ? 1 : 0;
      }
    }
    for (std::size_t n = 0; n < full.nests.size(); ++n) {
      EXPECT_EQ(brief.nests[n].nest, full.nests[n].nest);
      expect_same(brief.nests[n].mark, full.nests[n].mark);
    }
  }
  EXPECT_GT(causes, 200);
  EXPECT_GT(reached, 200);
}

}  // namespace
}  // namespace standpoint::test
