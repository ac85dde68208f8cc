#pragma once

#include <gtest/gtest.h>

#include "planner/reach/feature_reach.h"
#include "planner/reach/sight.h"
#include "tests/planner/scene_builder.h"

namespace standpoint::test {

inline const Vec3 kUp = Vec3::UnitZ();
inline constexpr FeatureId kFirst{0U};

/// The feature as judged from one place. The short answer must agree with the long one.
[[nodiscard]] inline FeatureMark mark_of(const MadeScene& scene, const Vec3& station,
                                         FeatureId feature = kFirst) {
  const Cell cell = cell_of(scene);
  FeatureMark mark = judge_feature(cell, station, feature);
  EXPECT_EQ(FeatureReach(cell, feature).verdict(station), mark.verdict);
  return mark;
}

}  // namespace standpoint::test
