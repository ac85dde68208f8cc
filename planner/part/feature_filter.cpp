#include "planner/part/feature_filter.h"

#include <algorithm>
#include <cmath>

#include "planner/part/tolerances.h"

namespace standpoint {
namespace {

bool has_axis(const FoundFeature& feature, const Vec3& axis) {
  if (feature.kind == FoundKind::sphere || feature.kind == FoundKind::point) return false;
  const double along = feature.axis.dot(axis);
  const bool either_way = feature.kind == FoundKind::cylinder;
  return (either_way ? std::abs(along) : along) >= tolerance::kAlongAxis;
}

}  // namespace

const char* kind_word(const FoundFeature& feature) {
  switch (feature.kind) {
    case FoundKind::hole:
      return "hole";
    case FoundKind::slot:
      return "slot";
    case FoundKind::cylinder:
      return feature.hollow ? "bore" : "boss";
    case FoundKind::cone:
      return "cone";
    case FoundKind::sphere:
      return "sphere";
    case FoundKind::plane:
      return "plane";
    case FoundKind::line:
      return "line";
    default:
      return "point";
  }
}

const std::vector<std::string>& kind_words() {
  static const std::vector<std::string> words = {"hole",   "slot",  "bore",  "boss", "cone",
                                                 "sphere", "plane", "point", "line"};
  return words;
}

double size_of(const FoundFeature& feature) {
  if (feature.kind == FoundKind::slot) return feature.width;
  if (feature.kind == FoundKind::line) return feature.length;
  if (feature.kind == FoundKind::plane)
    return std::floor(std::sqrt(std::max(0.0, feature.area)) + 0.5 + tolerance::kSizeRounding);
  return feature.diameter;
}

bool passes(const FeatureFilter& filter, const FoundFeature& feature) {
  const auto& words = filter.words;
  if (!words.empty() && std::find(words.begin(), words.end(), kind_word(feature)) == words.end())
    return false;
  // A size is asked for as names show it: rounded to a thousandth.
  const double rounding = 0.5e-3;
  const double size = size_of(feature);
  if (filter.size && (size < filter.size->low - rounding || size > filter.size->high + rounding))
    return false;
  if (filter.axis && !has_axis(feature, *filter.axis)) return false;
  return !filter.low || !filter.high ||
         ((feature.centre.array() >= filter.low->array()).all() &&
          (feature.centre.array() <= filter.high->array()).all());
}

}  // namespace standpoint
