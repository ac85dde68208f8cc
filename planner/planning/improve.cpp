#include "planner/planning/improve.h"

#include <algorithm>
#include <set>
#include <utility>

#include <tbb/parallel_for.h>

#include "planner/planning/aims.h"
#include "planner/reach/sight.h"

namespace standpoint {
namespace {

constexpr std::size_t kLooksPerRound = 48;
constexpr int kMostRounds = 6;

using Sights = std::map<CandidateId, Sight>;

struct Swap {
  std::size_t position = 0;  ///< in the chosen
  CandidateId by;
};

std::vector<CandidateId> swapped(std::vector<CandidateId> chosen, const Swap& swap) {
  chosen[swap.position] = swap.by;
  std::sort(chosen.begin(), chosen.end());
  return chosen;
}

/// Half of `count` from the front, half spread evenly over the rest.
std::vector<CandidateId> thin_out(const std::vector<CandidateId>& all, std::size_t count) {
  if (all.size() <= count) return all;
  const std::size_t near = count / 2;
  std::vector<CandidateId> kept(all.begin(), all.begin() + static_cast<std::ptrdiff_t>(near));
  const std::size_t rest = all.size() - near, spread = count - near;
  for (std::size_t i = 0; i < spread; ++i) kept.push_back(all[near + i * rest / spread]);
  return kept;
}

/// Looks from every candidate that has no sight yet.
void look_from_all(const SwapSearch& search, const std::vector<CandidateId>& wanted,
                   Sights& sights) {
  std::vector<std::pair<CandidateId, Sight*>> missing;
  for (const CandidateId c : wanted) {
    const auto [place, is_new] = sights.try_emplace(c);
    if (is_new) missing.emplace_back(c, &place->second);
  }
  tbb::parallel_for(std::size_t{0}, missing.size(), [&](std::size_t i) {
    *missing[i].second = look_from(search.cell, search.candidates[missing[i].first.index].at);
  });
}

Quality judge(const SwapSearch& search, const std::vector<CandidateId>& chosen,
              const Sights& sights) {
  std::vector<PlannedStation> stations;
  for (const CandidateId c : chosen) {
    PlannedStation& station = stations.emplace_back();
    station.at = search.candidates[c.index].at;
    station.sight = sights.at(c);
  }
  return quality_of(provisional_plan(search.cell.scene(), std::move(stations)));
}

/// The swaps that keep the first three aims, thinned out for one round.
std::vector<Swap> swaps_worth_a_look(const SwapSearch& search,
                                     const std::vector<CandidateId>& chosen) {
  const Scene& scene = search.cell.scene();
  const AimCount now = count_aims(scene, search.candidates, search.table, chosen);
  std::vector<Swap> swaps;
  for (std::size_t position = 0; position < chosen.size(); ++position) {
    const Candidate& here = search.candidates[chosen[position].index];
    if (here.keep) continue;
    std::vector<CandidateId> others;
    for (std::size_t c = 0; c < search.candidates.size(); ++c) {
      if (std::binary_search(chosen.begin(), chosen.end(), CandidateId(c))) continue;
      const auto after = swapped(chosen, {position, CandidateId(c)});
      if (count_aims(scene, search.candidates, search.table, after) == now &&
          search.is_tied(after)) {
        others.emplace_back(c);
      }
    }
    std::stable_sort(others.begin(), others.end(), [&](CandidateId a, CandidateId b) {
      return (search.candidates[a.index].at - here.at).squaredNorm() <
             (search.candidates[b.index].at - here.at).squaredNorm();
    });
    const std::size_t share = std::max<std::size_t>(2, kLooksPerRound / chosen.size());
    for (const CandidateId c : thin_out(others, share)) swaps.push_back({position, c});
  }
  return swaps;
}

}  // namespace

std::vector<CandidateId> improve(const SwapSearch& search, std::vector<CandidateId> chosen,
                                 const Watch& watch) {
  std::sort(chosen.begin(), chosen.end());
  if (chosen.empty()) return chosen;
  Sights sights;
  look_from_all(search, chosen, sights);
  Quality best = judge(search, chosen, sights);
  for (int round = 0; round < kMostRounds && !watch.is_interrupted(); ++round) {
    watch.tell(Stage::choose, static_cast<double>(round) / kMostRounds);
    const std::vector<Swap> swaps = swaps_worth_a_look(search, chosen);
    std::vector<CandidateId> wanted;
    wanted.reserve(swaps.size());
    for (const Swap& swap : swaps) wanted.push_back(swap.by);
    look_from_all(search, wanted, sights);
    std::vector<Quality> qualities(swaps.size());
    tbb::parallel_for(std::size_t{0}, swaps.size(), [&](std::size_t i) {
      qualities[i] = judge(search, swapped(chosen, swaps[i]), sights);
    });
    std::size_t taken = swaps.size();
    for (std::size_t i = 0; i < swaps.size(); ++i) {
      if (!is_better(qualities[i], best)) continue;
      best = qualities[i];
      taken = i;
    }
    if (taken == swaps.size()) break;
    chosen = swapped(chosen, swaps[taken]);
  }
  return chosen;
}

std::vector<PlannedStation> stations_of(const SwapSearch& search,
                                        const std::vector<CandidateId>& chosen) {
  std::set<std::string> taken;
  for (const FixedStation& fixed : search.cell.scene().fixed_stations) taken.insert(fixed.name);
  std::vector<PlannedStation> stations(chosen.size());
  int number = 0;
  for (std::size_t i = 0; i < chosen.size(); ++i) {
    const Candidate& candidate = search.candidates[chosen[i].index];
    PlannedStation& station = stations[i];
    station.at = candidate.at;
    station.zone = candidate.zone;
    station.name = candidate.name;
    while (station.name.empty()) {
      std::string name = "S" + std::to_string(++number);
      if (!taken.contains(name)) station.name = std::move(name);
    }
  }
  tbb::parallel_for(std::size_t{0}, stations.size(), [&](std::size_t i) {
    stations[i].sight = look_from(search.cell, stations[i].at);
  });
  for (PlannedStation& station : stations) {
    for (const NestMark& nest : station.sight.nests) {
      if (nest.mark.verdict != Verdict::blocked) station.nests.push_back(nest.nest);
    }
  }
  return stations;
}

}  // namespace standpoint
