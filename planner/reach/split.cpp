#include "planner/reach/split.h"

#include <algorithm>
#include <utility>

#include "planner/reach/element.h"
#include "planner/reach/touch_mark.h"

namespace standpoint {
namespace {

/// The marks of one target's touches from each place; null where it reaches none from there.
using Parts = std::vector<const PartMark*>;

Parts parts_by(TargetId target, const std::vector<const FeatureMark*>& marks) {
  Parts parts;
  for (const FeatureMark* mark : marks) {
    const auto found = std::find_if(mark->parts.begin(), mark->parts.end(),
                                    [&](const PartMark& part) { return part.target == target; });
    parts.push_back(found == mark->parts.end() ? nullptr : &*found);
  }
  return parts;
}

/// Whether `a` is the better mark of a touch by the same target: reached, then the larger margin.
bool is_nearer_taken(const TouchMark& a, const TouchMark& b) {
  if (a.best.has_value() != b.best.has_value()) return a.best.has_value();
  if (a.margin.has_value() != b.margin.has_value()) return a.margin.has_value();
  return a.margin && *a.margin > *b.margin;
}

SharedMark together_by(TargetId target, FeatureId feature, const Parts& parts) {
  SharedMark shared;
  shared.mark.feature = feature;
  shared.mark.target = target;
  const auto first = std::find_if(parts.begin(), parts.end(), [](auto* p) { return p != nullptr; });
  for (std::size_t touch = 0; touch < (*first)->touches.size(); ++touch) {
    const TouchMark* best = nullptr;
    std::size_t from = 0;
    for (std::size_t place = 0; place < parts.size(); ++place) {
      if (parts[place] == nullptr) continue;
      const TouchMark& mark = parts[place]->touches[touch];
      if (best != nullptr && !is_nearer_taken(mark, *best)) continue;
      best = &mark;
      from = place;
    }
    shared.mark.touches.push_back(*best);
    shared.mark.by_target.push_back(best->best);
    shared.taken_by.push_back(best->best ? std::optional(from) : std::nullopt);
    if (best->best) {
      const double margin = best->best->margin;
      shared.mark.margin = std::min(shared.mark.margin.value_or(margin), margin);
    }
  }
  return shared;
}

bool takes_enough(const Feature& feature, const FeatureMark& mark) {
  TouchSet set{mark.way, {}};
  std::vector<bool> reached;
  for (const TouchMark& touch : mark.touches) {
    set.touches.push_back({touch.at, touch.normal, touch.optical_centre});
    reached.push_back(touch.best.has_value());
  }
  return is_enough(feature, set, reached);
}

std::vector<TargetId> targets_of(const std::vector<const FeatureMark*>& marks) {
  std::vector<TargetId> targets;
  for (const FeatureMark* mark : marks)
    for (const PartMark& part : mark->parts) targets.push_back(part.target);
  std::sort(targets.begin(), targets.end());
  targets.erase(std::unique(targets.begin(), targets.end()), targets.end());
  return targets;
}

}  // namespace

bool may_be_split(const Shape& shape) {
  struct May {
    bool operator()(const PointFeature&) const { return false; }
    bool operator()(const PlaneFeature&) const { return true; }
    bool operator()(const HoleFeature&) const { return false; }
    bool operator()(const CylinderFeature&) const { return true; }
    bool operator()(const SphereFeature&) const { return true; }
    bool operator()(const LineFeature&) const { return true; }
    bool operator()(const ConeFeature&) const { return true; }
    bool operator()(const SlotFeature&) const { return false; }
    bool operator()(const SurfaceFeature&) const { return true; }
  };
  return std::visit(May{}, shape);
}

bool is_split_allowed(const Scene& scene, const Feature& feature) {
  return feature.split && scene.rules.split_features && scene.rules.stations_per_feature <= 1 &&
         may_be_split(feature.shape);
}

std::optional<SharedMark> mark_together(const Scene& scene, FeatureId feature,
                                        const std::vector<const FeatureMark*>& marks) {
  const Feature& asked = scene.features[feature.index];
  const bool is_taken_alone = std::any_of(marks.begin(), marks.end(), [](const FeatureMark* mark) {
    return mark->verdict != Verdict::blocked;
  });
  if (is_taken_alone || !is_split_allowed(scene, asked)) return std::nullopt;
  std::optional<SharedMark> best;
  for (const TargetId target : targets_of(marks)) {
    SharedMark shared = together_by(target, feature, parts_by(target, marks));
    shared.mark.verdict = verdict_by(scene, target);
    if (best && best->mark.verdict < shared.mark.verdict) break;  // full targets come first
    if (!takes_enough(asked, shared.mark)) continue;
    if (!best || *shared.mark.margin > *best->mark.margin) best = std::move(shared);
  }
  return best;
}

}  // namespace standpoint
