#pragma once

#include <optional>
#include <string>
#include <vector>

#include "planner/part/found_feature.h"

namespace standpoint {

/// Which of the features found are wanted: those that pass all that is asked here.
struct FeatureFilter {
  std::vector<std::string> words;  ///< as `kind_word` gives them; empty: all kinds
  std::optional<Interval> size;    ///< mm, ends included; of `size_of`
  std::optional<Vec3> axis;        ///< unit; within `kAlongAxis`, a cylinder's either way round
  std::optional<Vec3> low, high;   ///< corners of a box that the centre lies in, mm
};

/// What a feature is called by its kind: "hole", "slot", "bore" (a cylinder on the inside), "boss"
/// (on the outside), "cone", "sphere", "plane", "point", "line".
[[nodiscard]] const char* kind_word(const FoundFeature& feature);

/// All words that `kind_word` gives, in order.
[[nodiscard]] const std::vector<std::string>& kind_words();

/// The size that features of one kind are sorted and named by, mm: the diameter, a slot's width, a
/// line's length, a plane's the side of a square of its area, to whole mm. 0 for a point.
[[nodiscard]] double size_of(const FoundFeature& feature);

/// Whether a feature passes. A sphere and a point have no axis and never pass one.
[[nodiscard]] bool passes(const FeatureFilter& filter, const FoundFeature& feature);

}  // namespace standpoint
