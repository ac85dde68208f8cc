#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "planner/model/touch.h"
#include "standpoint/scene.h"
#include "standpoint/sight.h"

namespace standpoint {

// Features that several stations take together (contract section 9, "Split").

/// Whether several stations can take such a shape together: its touches are taken one by one, and
/// the element is fitted to all of them. A hole, a slot and a point are taken as one.
[[nodiscard]] bool may_be_split(const Shape& shape);

/// Whether several stations may take the feature together: its shape allows it, and neither the
/// feature nor the rules forbid it (rules that ask for several stations a feature do). O(1).
[[nodiscard]] bool is_split_allowed(const Scene& scene, const Feature& feature);

/// A feature as several places see it together.
struct SharedMark {
  /// By one target throughout: each touch as it is taken from the place with the largest margin (of
  /// equal ones the first); a touch that none reaches as the place that comes nearest sees it.
  FeatureMark mark;
  std::vector<std::optional<std::size_t>> taken_by;  ///< for each touch, which of the places
};

/// What the places make of the feature together; `marks` are its marks from each of them, in their
/// order. Nothing where one of them takes it alone, where it may not be split, and where no target
/// reaches enough of its touches. Of several targets that do: full ones first, then the largest
/// margin, then the first. Pure. O(places x targets x touches).
[[nodiscard]] std::optional<SharedMark> mark_together(const Scene& scene, FeatureId feature,
                                                      const std::vector<const FeatureMark*>& marks);

}  // namespace standpoint
