#include "planner/part/apply_annotation.h"

#include <tuple>

namespace standpoint {
namespace {

bool share_a_face(const std::vector<std::size_t>& a, const std::vector<std::size_t>& b) {
  auto at = a.begin();
  auto with = b.begin();
  while (at != a.end() && with != b.end()) {
    if (*at == *with) {
      return true;
    }
    if (*at < *with) {
      ++at;
    } else {
      ++with;
    }
  }
  return false;
}

/// Which kinds decide before which: lower before higher.
int rank_of(ToleranceKind kind) {
  switch (kind) {
    case ToleranceKind::position:
    case ToleranceKind::coaxiality:
    case ToleranceKind::symmetry:
    case ToleranceKind::surface_profile:
    case ToleranceKind::line_profile:
      return 0;
    case ToleranceKind::total_runout:
    case ToleranceKind::circular_runout:
      return 1;
    case ToleranceKind::perpendicularity:
    case ToleranceKind::parallelism:
    case ToleranceKind::angularity:
      return 2;
    case ToleranceKind::flatness:
    case ToleranceKind::straightness:
    case ToleranceKind::roundness:
    case ToleranceKind::cylindricity:
      break;
  }
  return 3;
}

/// Whether a feature of this kind can have such a tolerance (ISO 1101): the faces of a hole may be
/// its flat bottom too, which is no reason to give the hole a flatness.
bool can_have(FoundKind feature, ToleranceKind kind) {
  const bool is_round_about_axis = feature == FoundKind::hole || feature == FoundKind::cylinder;
  switch (kind) {
    case ToleranceKind::flatness:
      return feature == FoundKind::plane;
    case ToleranceKind::cylindricity:
      return is_round_about_axis;
    case ToleranceKind::roundness:
    case ToleranceKind::coaxiality:
      return feature != FoundKind::plane && feature != FoundKind::slot;
    case ToleranceKind::straightness:
      return feature != FoundKind::sphere;
    default:
      return true;
  }
}

bool concerns(const GeometricTolerance& tolerance, const FoundFeature& feature) {
  return tolerance.width > 0 && can_have(feature.kind, tolerance.kind) &&
         share_a_face(tolerance.faces, feature.faces);
}

/// Lower decides before higher.
std::tuple<int, bool, double, std::uint64_t> order_of(const GeometricTolerance& tolerance) {
  return {rank_of(tolerance.kind), tolerance.whole_part, tolerance.width, tolerance.id};
}

}  // namespace

void apply_annotation(std::vector<FoundFeature>& features, const Annotation& annotation) {
  for (FoundFeature& feature : features) {
    const GeometricTolerance* chosen = nullptr;
    for (const GeometricTolerance& tolerance : annotation.tolerances) {
      if (concerns(tolerance, feature) &&
          (chosen == nullptr || order_of(tolerance) < order_of(*chosen))) {
        chosen = &tolerance;
      }
    }
    if (chosen != nullptr) {
      feature.tolerance = chosen->width;
      feature.tolerance_from = chosen->text;
    }
    for (const DatumFeature& datum : annotation.datums) {
      feature.datum = feature.datum || share_a_face(datum.faces, feature.faces);
    }
  }
}

}  // namespace standpoint
