#include "planner/reach/feature_reach.h"

#include <algorithm>

#include "planner/reach/element.h"
#include "planner/reach/sight.h"

namespace standpoint {
namespace {

std::vector<TargetId> allowed_targets(const Scene& scene, const Feature& feature) {
  std::vector<TargetId> allowed = feature.targets;
  if (allowed.empty()) {
    for (std::size_t i = 0; i < target_count(scene); ++i) allowed.emplace_back(i);
  }
  std::sort(allowed.begin(), allowed.end());
  return allowed;
}

Verdict verdict_by(const Scene& scene, TargetId target) {
  return is_full_target(scene, target) ? Verdict::full_target : Verdict::offset_stylus;
}

/// Full targets before offset styli, then the larger margin; of equal ones the first.
bool is_better(const Scene& scene, const Reached& a, const Reached& b) {
  const bool a_full = is_full_target(scene, a.target), b_full = is_full_target(scene, b.target);
  return a_full != b_full ? a_full : a.margin > b.margin;
}

/// Marks a touch from the outcomes of all targets on it.
TouchMark mark_from(const Scene& scene, const Vec3& at, const Vec3& normal,
                    const std::vector<Outcome>& outcomes) {
  TouchMark mark;
  mark.at = at;
  mark.normal = normal;
  for (const Outcome& outcome : outcomes) {
    if (const auto* reached = std::get_if<Reached>(&outcome)) {
      if (!mark.best || is_better(scene, *reached, *mark.best)) mark.best = *reached;
    } else {
      mark.causes.push_back(std::get<Cause>(outcome));
    }
  }
  if (mark.best) {
    mark.verdict = verdict_by(scene, mark.best->target);
    mark.margin = mark.best->margin;
    mark.causes.clear();
    return mark;
  }
  for (const Cause& cause : mark.causes) {
    if (cause.rule == Rule::beam && (!mark.margin || *cause.margin > *mark.margin)) {
      mark.margin = cause.margin;
    }
  }
  return mark;
}

bool is_same_touch(const TouchSet& a, const TouchSet& b, std::size_t touch) {
  return a.way == b.way && touch < a.touches.size() && touch < b.touches.size() &&
         a.touches[touch].at == b.touches[touch].at;
}

/// Where a feature that no target can take at all would be touched.
TouchSet nominal_touch(const Feature& feature) {
  if (const auto* hole = std::get_if<HoleFeature>(&feature.shape)) {
    return {Way::rim, {{hole->centre, hole->axis, hole->centre}}};
  }
  return touch_sets(feature, 0, Rules{}).front();
}

}  // namespace

FeatureReach::FeatureReach(const Cell& cell, FeatureId feature)
    : cell_(&cell),
      feature_(feature),
      targets_(allowed_targets(cell.scene(), cell.scene().features[feature.index])) {
  const Scene& scene = cell.scene();
  for (const TargetId target : targets_) {
    for (TouchSet& set :
         touch_sets(scene.features[feature.index], touching_radius(scene, target), scene.rules)) {
      Taking taking{target, std::move(set), {}};
      for (const Touch& touch : taking.set.touches) {
        taking.at.push_back(make_target_at(cell, target, place_of(touch)));
      }
      takings_.push_back(std::move(taking));
    }
  }
}

bool FeatureReach::is_enough(Taking& taking, const std::vector<bool>& reached) {
  const Feature& feature = cell_->scene().features[feature_.index];
  if (reached.size() > 64) return standpoint::is_enough(feature, taking.set, reached);
  std::uint64_t key = 0;
  for (std::size_t i = 0; i < reached.size(); ++i) key |= std::uint64_t{reached[i]} << i;
  const auto [known, is_new] = taking.enough.try_emplace(key, false);
  if (is_new) known->second = standpoint::is_enough(feature, taking.set, reached);
  return known->second;
}

bool FeatureReach::takes(Taking& taking, const Vec3& station) {
  const Feature& feature = cell_->scene().features[feature_.index];
  const auto needed = static_cast<std::size_t>(feature.enough_touches && taking.set.way != Way::rim
                                                   ? *feature.enough_touches
                                                   : least_touches(feature, taking.set.way));
  std::vector<bool> reached(taking.at.size());
  std::size_t count = 0;
  for (std::size_t i = 0; i < taking.at.size(); ++i) {
    if (count + (taking.at.size() - i) < needed) return false;
    reached[i] = standpoint::reaches(taking.at[i], station);
    count += reached[i];
  }
  return is_enough(taking, reached);
}

Verdict FeatureReach::verdict(const Vec3& station) {
  // Targets are in order, full ones first: the first that takes the feature decides.
  for (Taking& taking : takings_) {
    if (takes(taking, station)) return verdict_by(cell_->scene(), taking.target);
  }
  return Verdict::blocked;
}

FeatureReach::Try FeatureReach::try_taking(Taking& taking, const Vec3& station) {
  Try result{&taking, {}, false, 0, std::nullopt};
  std::vector<bool> reached;
  for (TargetAt& target : taking.at) {
    result.outcomes.push_back(look(target, station));
    const auto* reach = std::get_if<Reached>(&result.outcomes.back());
    reached.push_back(reach != nullptr);
    if (reach == nullptr) continue;
    ++result.reached;
    result.margin = std::min(result.margin.value_or(reach->margin), reach->margin);
  }
  result.is_enough = is_enough(taking, reached);
  return result;
}

/// For each allowed target that can take the feature at all, its best way from here: the first that
/// is enough, else the one that reaches most touches.
std::vector<FeatureReach::Try> FeatureReach::best_tries(const Vec3& station) {
  std::vector<Try> tries;
  for (Taking& taking : takings_) {
    Try now = try_taking(taking, station);
    if (!tries.empty() && tries.back().taking->target == taking.target) {
      Try& before = tries.back();
      if (!before.is_enough && (now.is_enough || now.reached > before.reached)) {
        before = std::move(now);
      }
      continue;
    }
    tries.push_back(std::move(now));
  }
  return tries;
}

TouchMark FeatureReach::mark_touch(const std::vector<Try>& tries, const Try& shown,
                                   std::size_t touch, const Vec3& station) const {
  std::vector<Outcome> outcomes;
  for (const TargetId target : targets_) {
    const auto tried = std::find_if(tries.begin(), tries.end(),
                                    [&](const Try& t) { return t.taking->target == target; });
    const Touch& here = shown.taking->set.touches[touch];
    if (tried == tries.end()) {
      outcomes.emplace_back(plain_cause(target, Rule::no_fit, station, here.at));
    } else if (is_same_touch(tried->taking->set, shown.taking->set, touch)) {
      outcomes.push_back(tried->outcomes[touch]);
    } else {
      // It takes the feature another way: tell the first thing that fails there.
      const auto failed =
          std::find_if(tried->outcomes.begin(), tried->outcomes.end(),
                       [](const Outcome& o) { return std::holds_alternative<Cause>(o); });
      if (failed != tried->outcomes.end()) outcomes.push_back(*failed);
    }
  }
  const Touch& here = shown.taking->set.touches[touch];
  return mark_from(cell_->scene(), here.at, here.normal, outcomes);
}

FeatureMark FeatureReach::mark(const Vec3& station) {
  const Scene& scene = cell_->scene();
  FeatureMark mark;
  mark.feature = feature_;
  const std::vector<Try> tries = best_tries(station);
  if (tries.empty()) {
    const TouchSet nominal = nominal_touch(scene.features[feature_.index]);
    mark.way = nominal.way;
    for (const Touch& touch : nominal.touches) {
      std::vector<Outcome> outcomes;
      for (const TargetId target : targets_) {
        outcomes.emplace_back(plain_cause(target, Rule::no_fit, station, touch.at));
      }
      mark.touches.push_back(mark_from(scene, touch.at, touch.normal, outcomes));
      mark.by_target.emplace_back();
    }
    return mark;
  }
  const auto is_ahead = [&](const Try& a, const Try& b) {
    if (a.is_enough != b.is_enough) return a.is_enough;
    if (!a.is_enough) return a.reached > b.reached;
    const bool a_full = is_full_target(scene, a.taking->target);
    const bool b_full = is_full_target(scene, b.taking->target);
    return a_full != b_full ? a_full : *a.margin > *b.margin;
  };
  const Try* shown = &tries.front();
  for (const Try& other : tries) {
    if (is_ahead(other, *shown)) shown = &other;
  }
  mark.way = shown->taking->set.way;
  for (std::size_t i = 0; i < shown->outcomes.size(); ++i) {
    mark.touches.push_back(mark_touch(tries, *shown, i, station));
    const auto* reached = std::get_if<Reached>(&shown->outcomes[i]);
    mark.by_target.push_back(reached ? std::optional(*reached) : std::nullopt);
  }
  if (shown->is_enough) {
    mark.verdict = verdict_by(scene, shown->taking->target);
    mark.target = shown->taking->target;
    mark.margin = shown->margin;
    return mark;
  }
  for (const TouchMark& touch : mark.touches) {
    if (touch.verdict == Verdict::blocked && touch.margin) {
      mark.margin = std::min(mark.margin.value_or(*touch.margin), *touch.margin);
    }
  }
  return mark;
}

NestReach::NestReach(const Cell& cell, const Nest& nest) : cell_(&cell), nest_(&nest) {
  for (std::size_t i = 0; i < target_count(cell.scene()); ++i) {
    targets_.push_back(make_target_at(cell, TargetId(i), place_of(nest)));
  }
}

Verdict NestReach::verdict(const Vec3& station) {
  for (std::size_t i = 0; i < targets_.size(); ++i) {
    if (reaches(targets_[i], station)) return verdict_by(cell_->scene(), TargetId(i));
  }
  return Verdict::blocked;
}

TouchMark NestReach::mark(const Vec3& station) {
  std::vector<Outcome> outcomes;
  for (TargetAt& target : targets_) outcomes.push_back(look(target, station));
  return mark_from(cell_->scene(), nest_->at, nest_->normal, outcomes);
}

FeatureMark mark_feature(const Cell& cell, const Vec3& at, FeatureId feature) {
  return FeatureReach(cell, feature).mark(at);
}

NestMark mark_nest(const Cell& cell, const Vec3& at, NestId nest) {
  return {nest, NestReach(cell, cell.scene().nests[nest.index]).mark(at)};
}

Sight look_from(const Cell& cell, const Vec3& at) {
  Sight sight;
  sight.at = at;
  for (std::size_t f = 0; f < cell.scene().features.size(); ++f) {
    sight.features.push_back(mark_feature(cell, at, FeatureId(f)));
  }
  for (std::size_t n = 0; n < cell.scene().nests.size(); ++n) {
    sight.nests.push_back(mark_nest(cell, at, NestId(n)));
  }
  return sight;
}

}  // namespace standpoint
