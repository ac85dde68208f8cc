#include "planner/planning/improve.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>
#include <utility>

#include <tbb/parallel_for.h>

#include "planner/model/tolerances.h"
#include "planner/planning/aims.h"
#include "planner/planning/equal_sets.h"
#include "planner/planning/set_bounds.h"
#include "planner/planning/sight_store.h"
#include "planner/stations/candidates.h"

namespace standpoint {
namespace {

using Set = std::vector<CandidateId>;

constexpr std::size_t kSetsAtOnce = 16;
constexpr std::size_t kMostPlaces = 96;           // looked from before swaps begin
constexpr std::size_t kMostPlacesOfNests = 1000;  // from which nests alone are looked at
constexpr std::size_t kMostJudged = 4000;         // sets, before swaps begin
constexpr std::size_t kStarts = 3;
constexpr std::size_t kSwapsPerRound = 24;
constexpr int kMostRounds = 6;

/// A set, what is known of it without looking, and how good it is once it has been judged.
struct Entry {
  Set set;
  double bound = 0;            ///< no plan with it has a worst uncertainty below, mm
  bool is_by_network = false;  ///< the bound is that of its own network
  std::optional<Quality> quality;
};

/// Half of `count` from the front, half spread evenly over the rest.
template <class Item>
std::vector<Item> thin_out(const std::vector<Item>& all, std::size_t count) {
  if (all.size() <= count) return all;
  const std::size_t near = count / 2;
  std::vector<Item> kept(all.begin(), all.begin() + static_cast<std::ptrdiff_t>(near));
  const std::size_t rest = all.size() - near, spread = count - near;
  for (std::size_t i = 0; i < spread; ++i) kept.push_back(all[near + i * rest / spread]);
  return kept;
}

class Search {
 public:
  Search(const LaterSearch& search, const Watch& watch)
      : search_(search),
        watch_(watch),
        scene_(search.cell.scene()),
        sights_(search.cell, search.candidates, search.table),
        bounds_(scene_, search.candidates, search.table) {}

  LaterChoice run(Set chosen) {
    std::sort(chosen.begin(), chosen.end());
    if (chosen.empty()) return {chosen, {}};
    aims_ = count_aims(scene_, search_.candidates, search_.table, chosen);
    EqualSets equal = equal_sets({scene_, search_.candidates, search_.table, search_.is_tied},
                                 chosen, kEqualSetLimit);
    if (!equal.is_all) equal.sets.push_back(chosen);
    for (Set& set : equal.sets) consider(std::move(set));
    const bool is_decided = judge_in_order();
    LaterChoice choice;
    choice.proof.is_all = equal.is_all && is_decided;
    if (!choice.proof.is_all) {
      if (search_.close_table) search_.close_table();
      swap_from_the_best();
    }
    choice.chosen = entries_[best()].set;
    choice.proof.judged = static_cast<int>(judged_);
    if (const double least = least_possible(); equal.is_all && least > 0)
      choice.proof.worst_at_least = least;
    return choice;
  }

 private:
  /// By x, then y, then z: an order that no list's order enters into.
  [[nodiscard]] bool comes_first(const Set& a, const Set& b) const {
    const auto is_before = [](const Candidate* one, const Candidate* other) {
      return comes_before(*one, *other);
    };
    const auto places = [&](const Set& set) {
      std::vector<const Candidate*> sorted;
      for (const CandidateId c : set) sorted.push_back(&search_.candidates[c.index]);
      std::sort(sorted.begin(), sorted.end(), is_before);
      return sorted;
    };
    const auto one = places(a), other = places(b);
    return std::lexicographical_compare(one.begin(), one.end(), other.begin(), other.end(),
                                        is_before);
  }

  [[nodiscard]] bool is_ahead(const Entry& a, const Entry& b) const {
    if (a.bound != b.bound) return a.bound < b.bound;
    return comes_first(a.set, b.set);
  }

  void consider(Set set) {
    if (!known_.insert(set).second) return;
    const double bound = bounds_.of(set);
    entries_.push_back({std::move(set), bound, false, std::nullopt});
  }

  /// What the sets of these numbers cannot go below, by their own networks.
  void bound_by_network(const std::vector<std::size_t>& numbers) {
    sights_.look_at_nests(sets_of(numbers));
    tbb::parallel_for(std::size_t{0}, numbers.size(), [&](std::size_t i) {
      Entry& entry = entries_[numbers[i]];
      entry.bound =
          std::max(entry.bound, bounds_.in_network(entry.set, sights_.with_nests(entry.set)));
      entry.is_by_network = true;
    });
  }

  /// Judges the entries of these numbers that are not judged yet.
  void judge(const std::vector<std::size_t>& numbers) {
    sights_.look_for(sets_of(numbers));
    tbb::parallel_for(std::size_t{0}, numbers.size(), [&](std::size_t i) {
      Entry& entry = entries_[numbers[i]];
      if (!entry.quality)
        entry.quality =
            quality_of(provisional_plan(scene_, sights_.stations_of(entry.set), search_.aligned));
    });
    judged_ += numbers.size();
  }

  [[nodiscard]] std::vector<Set> sets_of(const std::vector<std::size_t>& numbers) const {
    std::vector<Set> sets;
    sets.reserve(numbers.size());
    for (const std::size_t i : numbers) sets.push_back(entries_[i].set);
    return sets;
  }

  /// From the most promising on, until none of the rest can be as good as the best, which is then
  /// decided (true), or too much has been looked at. A set is judged once its network's bound, too,
  /// leaves it in front.
  bool judge_in_order() {
    const auto is_before = [&](std::size_t a, std::size_t b) {
      if (is_ahead(entries_[a], entries_[b])) return true;
      return !is_ahead(entries_[b], entries_[a]) && a < b;
    };
    std::set<std::size_t, decltype(is_before)> left(is_before);
    for (std::size_t i = 0; i < entries_.size(); ++i) left.insert(i);
    std::optional<double> least;  // worst uncertainty of all judged
    std::size_t at_once = 1;      // the first may leave few others
    while (!left.empty()) {
      if (watch_.is_interrupted() || sights_.size() > kMostPlaces || judged_ >= kMostJudged)
        return false;
      watch_.tell(Stage::choose, std::min(1.0, double(sights_.size()) / kMostPlaces));
      std::vector<std::size_t> front, open;
      for (const std::size_t i : left) {
        if (least && entries_[i].bound * (1 - tolerance::kSameUncertainty) > *least) break;
        front.push_back(i);
        if (!entries_[i].is_by_network) open.push_back(i);
        if (front.size() == kSetsAtOnce) break;
      }
      if (front.empty()) return true;
      const bool is_bound_enough = open.empty() || sights_.nests_from() > kMostPlacesOfNests;
      if (is_bound_enough && front.size() > at_once) front.resize(at_once);
      for (const std::size_t i : is_bound_enough ? front : open) left.erase(i);
      if (!is_bound_enough) {
        bound_by_network(open);
        left.insert(open.begin(), open.end());
        continue;
      }
      judge(front);
      at_once = std::min(2 * at_once, kSetsAtOnce);
      for (const std::size_t i : front)
        if (const auto& worst = entries_[i].quality->worst_expanded)
          least = std::min(least.value_or(*worst), *worst);
    }
    return true;
  }

  /// The best of all that are judged. First the least worst uncertainty, and all that do not differ
  /// from it; of these the largest least margin, and all that do not differ from that; of these the
  /// one that comes first.
  [[nodiscard]] std::size_t best() const {
    std::vector<std::size_t> left;
    for (std::size_t i = 0; i < entries_.size(); ++i)
      if (entries_[i].quality) left.push_back(i);
    const auto quality = [&](std::size_t i) -> const Quality& { return *entries_[i].quality; };
    double least = std::numeric_limits<double>::infinity();
    for (const std::size_t i : left)
      least = std::min(least, quality(i).worst_expanded.value_or(least));
    if (std::isfinite(least)) {
      std::erase_if(left, [&](std::size_t i) {
        const auto& worst = quality(i).worst_expanded;
        return !worst || *worst * (1 - tolerance::kSameUncertainty) > least;
      });
    }
    double most = -std::numeric_limits<double>::infinity();
    for (const std::size_t i : left) most = std::max(most, quality(i).least_margin);
    std::erase_if(left, [&](std::size_t i) {
      return quality(i).least_margin < most - tolerance::kSameMargin;
    });
    return *std::min_element(left.begin(), left.end(), [&](std::size_t a, std::size_t b) {
      return comes_first(entries_[a].set, entries_[b].set);
    });
  }

  /// No set that equals the chosen one has a worst uncertainty below, mm.
  [[nodiscard]] double least_possible() const {
    double least = std::numeric_limits<double>::infinity();
    for (const Entry& entry : entries_) {
      const bool has_figure = entry.quality && entry.quality->worst_expanded;
      least = std::min(least, has_figure ? *entry.quality->worst_expanded : entry.bound);
    }
    return least;
  }

  /// Swaps of one station, round after round, from the best of what is judged; then the same from
  /// the next best that shares no more than half of its stations with the starts before.
  void swap_from_the_best() {
    std::vector<Set> starts;
    for (std::size_t start = 0; start < kStarts && !watch_.is_interrupted(); ++start) {
      const std::optional<std::size_t> from = next_start(starts);
      if (!from) return;
      starts.push_back(entries_[*from].set);
      climb(*from);
    }
  }

  [[nodiscard]] std::optional<std::size_t> next_start(const std::vector<Set>& before) const {
    std::optional<std::size_t> next;
    for (std::size_t i = 0; i < entries_.size(); ++i) {
      if (!entries_[i].quality) continue;
      const Set& set = entries_[i].set;
      const bool is_alike = std::any_of(before.begin(), before.end(), [&](const Set& other) {
        Set both;
        std::set_intersection(set.begin(), set.end(), other.begin(), other.end(),
                              std::back_inserter(both));
        return 2 * both.size() > set.size() || set == other;
      });
      if (is_alike) continue;
      if (!next || is_better(*entries_[i].quality, *entries_[*next].quality)) next = i;
    }
    return next;
  }

  void climb(std::size_t at) {
    for (int round = 0; round < kMostRounds && !watch_.is_interrupted(); ++round) {
      std::vector<std::size_t> numbers = swaps(entries_[at].set);
      judge(numbers);
      std::size_t best = at;
      for (const std::size_t i : numbers)
        if (is_better(*entries_[i].quality, *entries_[best].quality)) best = i;
      if (best == at) return;
      at = best;
    }
  }

  /// New entries that differ from the set in one station, or in two for places that have been
  /// looked from; the most promising and some spread over the rest.
  std::vector<std::size_t> swaps(const Set& set) {
    std::vector<Entry> found;
    const auto try_instead = [&](Set other) {
      std::sort(other.begin(), other.end());
      if (std::adjacent_find(other.begin(), other.end()) != other.end() || known_.contains(other))
        return;
      if (count_aims(scene_, search_.candidates, search_.table, other) != aims_ ||
          !search_.is_tied(other))
        return;
      const double bound = bounds_.of(other);
      found.push_back({std::move(other), bound, false, std::nullopt});
    };
    for (std::size_t i = 0; i < set.size(); ++i) {
      if (is_kept(set[i])) continue;
      for (std::size_t c = 0; c < search_.candidates.size(); ++c) {
        Set other = set;
        other[i] = CandidateId(c);
        try_instead(std::move(other));
      }
      for (std::size_t j = 0; j < i; ++j)
        if (!is_kept(set[j])) try_pairs(set, i, j, try_instead);
    }
    std::stable_sort(found.begin(), found.end(),
                     [&](const Entry& a, const Entry& b) { return is_ahead(a, b); });
    std::vector<std::size_t> numbers;
    for (Entry& entry : thin_out(found, kSwapsPerRound)) {
      if (!known_.insert(entry.set).second) continue;
      numbers.push_back(entries_.size());
      entries_.push_back(std::move(entry));
    }
    return numbers;
  }

  template <class TryInstead>
  void try_pairs(const Set& set, std::size_t i, std::size_t j, const TryInstead& try_instead) {
    for (std::size_t a = 0; a < search_.candidates.size(); ++a) {
      if (!sights_.has(CandidateId(a))) continue;
      for (std::size_t b = 0; b < search_.candidates.size(); ++b) {
        if (a == b || !sights_.has(CandidateId(b))) continue;
        Set other = set;
        other[i] = CandidateId(a);
        other[j] = CandidateId(b);
        try_instead(std::move(other));
      }
    }
  }

  [[nodiscard]] bool is_kept(CandidateId c) const { return search_.candidates[c.index].keep; }

  const LaterSearch& search_;
  const Watch& watch_;
  const Scene& scene_;
  SightStore sights_;
  SetBounds bounds_;
  AimCount aims_;
  std::vector<Entry> entries_;
  std::set<Set> known_;  ///< the sets of `entries_`
  std::size_t judged_ = 0;
};

}  // namespace

LaterChoice improve(const LaterSearch& search, std::vector<CandidateId> chosen,
                    const Watch& watch) {
  return Search(search, watch).run(std::move(chosen));
}

std::vector<PlannedStation> stations_of(const LaterSearch& search,
                                        const std::vector<CandidateId>& chosen) {
  std::set<std::string> taken;
  for (const FixedStation& fixed : search.cell.scene().fixed_stations) taken.insert(fixed.name);
  std::vector<PlannedStation> stations(chosen.size());
  int number = 0;
  for (std::size_t i = 0; i < chosen.size(); ++i) {
    const Candidate& candidate = search.candidates[chosen[i].index];
    PlannedStation& station = stations[i];
    station.at = candidate.at;
    station.up = candidate.up;
    station.zone = candidate.zone;
    station.name = candidate.name;
    while (station.name.empty()) {
      std::string name = "S" + std::to_string(++number);
      if (!taken.contains(name)) station.name = std::move(name);
    }
  }
  tbb::parallel_for(std::size_t{0}, stations.size(), [&](std::size_t i) {
    stations[i].sight = look_from(search.cell, stance_of(stations[i]));
  });
  for (PlannedStation& station : stations) {
    for (const NestMark& nest : station.sight.nests) {
      if (nest.mark.verdict != Verdict::blocked) station.nests.push_back(nest.nest);
    }
  }
  return stations;
}

}  // namespace standpoint
