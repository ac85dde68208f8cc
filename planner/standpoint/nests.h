#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

#include "standpoint/cell.h"
#include "standpoint/plan.h"

/// \file
/// Stations and reference nests planned together. Lengths are mm.

namespace standpoint {

/// Which of the sites that are offered are taken: indices into the list of sites, ascending.
using SiteSet = std::vector<std::uint32_t>;

/// How much of a search is exhaustive.
struct SearchEffort {
  /// A size of set is tried exhaustively where it has at most so many sets; otherwise by exchange.
  /// Larger: slower, and more is proven.
  double most_sets = 3e6;
  int restarts = 4;        ///< of the exchange, for each size
  std::uint64_t seed = 1;  ///< of the exchange: the same seed gives the same sets
};

/// The fewest sites that tie the stations and keep the bound, and of these the best.
struct SubsetAnswer {
  SiteSet sites;                ///< that are taken
  bool is_tied = false;         ///< whether they do tie the stations
  std::optional<double> worst;  ///< greatest expanded uncertainty with them, mm; empty: no figures
  bool is_met = true;           ///< whether `worst` is within the bound that was asked
  /// Where the bound is not met: proven, that no set of sites goes below this, mm. 0: nothing is.
  double least_possible = 0;
  int lower_bound = 0;           ///< proven: no fewer sites do
  bool is_worst_proven = false;  ///< all sets of this size were tried: none is better
};

/// Stations and nests planned together.
struct NestChoice {
  /// The cell with the nests that were there, then the chosen sites, as its nests, and without
  /// sites to choose from.
  Cell cell;
  std::size_t existing = 0;      ///< how many of its nests were there
  std::vector<NestSite> left{};  ///< sites that were offered, listed or generated, and not taken
  std::vector<Candidate> candidates{};  ///< all places for stations that were looked into
  Plan plan{};                          ///< of `cell`
  /// What was found and proven for the plan's stations. Its sites are counted among all that were
  /// offered: those that the scene lists, then those that were generated.
  SubsetAnswer answer{};
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
/// one to three). Then for these stations the fewest sites and the best of them.
/// Then the same for other sets of stations equal in the three aims, all of them where they are
/// few, otherwise swaps of one station spread evenly; the set with fewer sites is taken, then the
/// one with the smaller worst uncertainty. Last the stations are improved once more with the nests
/// as they are now. docs/nests.md.
///
/// Nothing where `watch` was interrupted. On all cores; the same scene gives the same choice at any
/// number of threads. Safe to call from many threads at once. Throws std::bad_alloc. Cost: that of
/// make_plan, and again of the network for every set of sites that is tried; `effort` and
/// `stations` bound it.
[[nodiscard]] std::optional<NestChoice> choose_nests(const Cell& cell,
                                                     const SearchEffort& effort = {},
                                                     const StationEffort& stations = {},
                                                     const Watch& watch = {});

}  // namespace standpoint
