#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "planner/cell.h"
#include "planner/nests/subset_search.h"
#include "planner/plan.h"
#include "planner/planning/watch.h"

namespace standpoint {

/// Stations and nests planned together.
struct NestChoice {
  /// The scene with the nests that were there, then the chosen sites, as its nests, and without
  /// sites to choose from; its bodies are without their meshes.
  Scene scene;
  std::size_t existing = 0;           ///< how many of its nests were there
  std::vector<NestSite> left;         ///< sites that were offered, listed or raised, and not taken
  std::vector<Candidate> candidates;  ///< all places for stations that were looked into
  Plan plan;                          ///< of `scene`
  /// What was found and proven for the plan's stations; its sites index `raise_sites`.
  SubsetAnswer answer;
  int station_sets = 1;  ///< sets of stations whose nests were looked into
  /// Whether these were all sets that are equal to the plan's in the first three aims.
  bool has_tried_all_stations = false;
};

/// What bounds the search over stations.
struct StationEffort {
  int most_sets = 24;          ///< other sets of stations that are looked into
  double most_tested = 20000;  ///< sets that are tested for being equal in the aims
};

/// Plans stations and nests (contract section 7). First the stations as if every site held a nest:
/// their number and what they reach comes before anything about nests (contract section 4, aims
/// one to three). Then for these stations the fewest sites and the best of them (`search_subsets`).
/// Then the same for other sets of stations equal in the three aims, all of them where they are
/// few, otherwise swaps of one station spread evenly; the set with fewer sites is taken, then the
/// one with the smaller worst uncertainty. Last the stations are improved once more with the nests
/// as they are now. docs/nests.md.
///
/// Nothing where `watch` was interrupted. The same scene gives the same choice at any number of
/// threads.
[[nodiscard]] std::optional<NestChoice> choose_nests(const Cell& cell, const SearchEffort& effort,
                                                     const StationEffort& stations,
                                                     const Watch& watch);

}  // namespace standpoint
