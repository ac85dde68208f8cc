#include "io/use/compare_plans.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <set>
#include <tuple>
#include <unordered_map>
#include <utility>

#include "geometry/vec.h"
#include "io/words/tolerances.h"

namespace standpoint {
namespace {

using Station = PlanRecord::Station;
using RecordedFeature = PlanRecord::Feature;
using RecordedLink = PlanRecord::Link;

/// Which station of the one plan is which of the other.
class StationMatch {
 public:
  StationMatch(const PlanRecord& before, const PlanRecord& after)
      : before_(before.stations),
        after_(after.stations),
        after_of_(before.stations.size()),
        is_taken_(after.stations.size(), false) {
    take_nearest(tolerance::kSamePlace);
    take_same_fixed_places();
    take_nearest(tolerance::kFarthestMove);
  }

  [[nodiscard]] std::optional<std::size_t> after_of(std::size_t station) const {
    return after_of_[station];
  }

  void tell(Comparison& comparison) const {
    for (std::size_t b = 0; b < before_.size(); ++b) {
      if (!after_of_[b]) {
        comparison.removed.push_back(b);
        continue;
      }
      const std::size_t a = *after_of_[b];
      const double moved = (after_[a].at - before_[b].at).norm();
      const double turned = angle_between(before_[b].up, after_[a].up);
      comparison.kept.push_back({b, a, moved, moved > tolerance::kSamePlace,
                                 before_[b].name != after_[a].name, turned > tolerance::kToldTurn});
    }
    for (std::size_t a = 0; a < after_.size(); ++a)
      if (!is_taken_[a]) comparison.added.push_back(a);
  }

 private:
  void take(std::size_t before, std::size_t after) {
    after_of_[before] = after;
    is_taken_[after] = true;
  }

  void take_nearest(double farthest) {
    std::vector<std::tuple<double, std::size_t, std::size_t>> pairs;
    for (std::size_t b = 0; b < before_.size(); ++b) {
      for (std::size_t a = 0; a < after_.size(); ++a) {
        const double distance = (after_[a].at - before_[b].at).norm();
        if (distance <= farthest) pairs.emplace_back(distance, b, a);
      }
    }
    std::sort(pairs.begin(), pairs.end());
    for (const auto& [distance, b, a] : pairs)
      if (!after_of_[b] && !is_taken_[a]) take(b, a);
  }

  /// A fixed place's name is the user's own: it stays the same place wherever it is put.
  void take_same_fixed_places() {
    for (std::size_t b = 0; b < before_.size(); ++b) {
      if (after_of_[b] || before_[b].zone) continue;
      for (std::size_t a = 0; a < after_.size(); ++a) {
        if (!is_taken_[a] && !after_[a].zone && after_[a].name == before_[b].name) {
          take(b, a);
          break;
        }
      }
    }
  }

  const std::vector<Station>&before_, &after_;
  std::vector<std::optional<std::size_t>> after_of_;
  std::vector<bool> is_taken_;
};

/// Whether it differs by `step` or more. Nothing stands for what is larger than any number.
bool differs(std::optional<double> before, std::optional<double> after, double step) {
  if (!before || !after) return before.has_value() != after.has_value();
  return std::abs(*before - *after) >= step - tolerance::kChangeRounding;
}

/// The first station is the one whose figures are told; the order of the others means nothing.
bool is_from_elsewhere(const RecordedFeature& before, const RecordedFeature& after,
                       const StationMatch& match) {
  if (before.stations.size() != after.stations.size()) return true;
  if (before.is_shared != after.is_shared) return true;
  std::set<std::size_t> others;
  for (std::size_t i = 0; i < before.stations.size(); ++i) {
    const auto same = match.after_of(before.stations[i]);
    if (!same || (i == 0 && !before.is_shared && *same != after.stations[0])) return true;
    others.insert(*same);
  }
  return others != std::set<std::size_t>(after.stations.begin(), after.stations.end());
}

void compare_features(const PlanRecord& before, const PlanRecord& after, const StationMatch& match,
                      Comparison& comparison) {
  std::unordered_map<std::string, std::size_t> of_name, old_of_name;
  for (std::size_t a = 0; a < after.features.size(); ++a) of_name[after.features[a].name] = a;
  for (std::size_t b = 0; b < before.features.size(); ++b) {
    const RecordedFeature& old = before.features[b];
    old_of_name[old.name] = b;
    const auto found = of_name.find(old.name);
    if (found == of_name.end()) comparison.only_before.push_back(old.name);
    const bool is_still = found != of_name.end() && is_measured(after.features[found->second]);
    if (is_measured(old) && !is_still) comparison.lost.push_back(old.name);
    if (!is_measured(old) || !is_still) continue;
    const RecordedFeature& now = after.features[found->second];
    FeatureChange change{b, found->second};
    change.verdict = old.verdict != now.verdict;
    change.station = is_from_elsewhere(old, now, match);
    change.target = old.target != now.target;
    change.margin = differs(old.margin, now.margin, tolerance::kMarginChange);
    change.uncertainty = differs(old.expanded, now.expanded, tolerance::kUncertaintyChange);
    if (change.verdict || change.station || change.target || change.margin || change.uncertainty)
      comparison.changed.push_back(change);
  }
  for (const RecordedFeature& now : after.features) {
    const auto found = old_of_name.find(now.name);
    if (found == old_of_name.end()) comparison.only_after.push_back(now.name);
    const bool was = found != old_of_name.end() && is_measured(before.features[found->second]);
    if (is_measured(now) && !was) comparison.gained.push_back(now.name);
  }
}

std::vector<std::string> without(const std::vector<std::string>& names,
                                 const std::vector<std::string>& others) {
  std::vector<std::string> left;
  for (const std::string& name : names)
    if (std::find(others.begin(), others.end(), name) == others.end()) left.push_back(name);
  return left;
}

void compare_links(const PlanRecord& before, const PlanRecord& after, const StationMatch& match,
                   Comparison& comparison) {
  std::vector<bool> is_old(after.links.size(), false);
  for (std::size_t b = 0; b < before.links.size(); ++b) {
    const RecordedLink& old = before.links[b];
    const auto from = match.after_of(old.a), to = match.after_of(old.b);
    const auto same =
        std::find_if(after.links.begin(), after.links.end(), [&](const RecordedLink& link) {
          return from && to && std::minmax(link.a, link.b) == std::minmax(*from, *to);
        });
    if (same == after.links.end()) {
      comparison.lost_links.push_back(b);
      continue;
    }
    const auto a = static_cast<std::size_t>(same - after.links.begin());
    is_old[a] = true;
    LinkChange change{b, a, without(old.nests, same->nests), without(same->nests, old.nests)};
    if (!change.lost.empty() || !change.gained.empty())
      comparison.changed_links.push_back(std::move(change));
  }
  for (std::size_t a = 0; a < after.links.size(); ++a)
    if (!is_old[a]) comparison.gained_links.push_back(a);
}

/// Plans that have nothing in common are most likely of two jobs.
std::optional<Fault> fault_of_strangers(const Request& request, const CompareAnswer& answer) {
  const auto& [before, after, comparison] = answer;
  const bool has_features = !before.features.empty() || !after.features.empty();
  if (!has_features || comparison.only_before.size() < before.features.size()) return std::nullopt;
  return Fault{request.files[1].string() + "#/features",
               "no feature that " + request.files[0].string() + " has",
               "two plans with at least one feature of the same name", FaultKind::other, ""};
}

}  // namespace

Comparison compare(const PlanRecord& before, const PlanRecord& after) {
  Comparison comparison;
  const StationMatch match(before, after);
  match.tell(comparison);
  compare_features(before, after, match, comparison);
  compare_links(before, after, match, comparison);
  return comparison;
}

bool is_tied(const PlanRecord& plan) {
  std::vector<std::size_t> group(plan.stations.size());
  std::iota(group.begin(), group.end(), std::size_t{0});
  for (const RecordedLink& link : plan.links) {
    const std::size_t from = group[link.b], to = group[link.a];
    std::replace(group.begin(), group.end(), from, to);
  }
  return std::all_of(group.begin(), group.end(),
                     [&](std::size_t one) { return one == group.front(); });
}

Answered<CompareAnswer> compare_plans(const Request& request) {
  auto before = read_plan_record(request.files[0]), after = read_plan_record(request.files[1]);
  Faults faults;
  for (const auto* read : {&before, &after})
    if (!*read) faults.insert(faults.end(), read->error().begin(), read->error().end());
  if (!faults.empty()) return wrong_input(std::move(faults));
  CompareAnswer answer{std::move(*before), std::move(*after), {}};
  answer.comparison = compare(answer.before, answer.after);
  if (auto fault = fault_of_strangers(request, answer)) return wrong_input({std::move(*fault)});
  return answer;
}

}  // namespace standpoint
