#pragma once

#include <cstdint>
#include <optional>

#include "planner/nests/nest_judge.h"
#include "planner/planning/watch.h"

namespace standpoint {

/// How much of a search is exhaustive.
struct SearchEffort {
  /// A size of set is tried exhaustively where it has at most so many sets; otherwise by exchange.
  /// Larger: slower, and more is proven.
  double most_sets = 3e6;
  int restarts = 4;  ///< of the exchange, for each size
  std::uint64_t seed = 1;
};

/// The fewest sites that tie the stations and keep the bound, and of these the best.
struct SubsetAnswer {
  SiteSet sites;
  bool is_tied = false;         ///< whether they do tie the stations
  std::optional<double> worst;  ///< greatest expanded uncertainty with them, mm; empty: no figures
  bool is_met = true;           ///< whether `worst` is within the bound that was asked
  /// Where the bound is not met: proven, that no set of sites goes below this, mm. 0: nothing is.
  double least_possible = 0;
  int lower_bound = 0;           ///< proven: no fewer sites do
  bool is_worst_proven = false;  ///< all sets of this size were tried: none is better
};

/// The choice of sites for given stations (contract section 7): the fewest that tie them with
/// `worst` at most `max_expanded` (where given), then the smallest worst.
///
/// Sizes are tried upwards from the bound of `NestTies::least_sites`. Each size is searched by
/// exchange: swaps of one site against another, the best swap of each round, until none helps;
/// from the counting program's example, from the smaller size's best and from random sets (Fedorov,
/// Theory of Optimal Experiments, 1972; G-optimality is what is compared). A size with no more than
/// `most_sets` sets is then tried exhaustively: sets, and whole families that begin alike, are left
/// out only where `NestJudge::bound` proves them worse than the best so far. Of sets that are
/// equally good the first in order. Where a few sizes that are not exhaustive do not meet
/// `max_expanded`, sites are added one by one, the best each time, until it is met, and dropped
/// again by exchange while it stays so. Where nothing can meet `max_expanded` the best that was
/// found. Where `worst` has no figures any set that ties will do.
///
/// On all cores; the same answer at any number of threads. Returns early when `watch` is
/// interrupted. Docs: docs/nests.md.
[[nodiscard]] SubsetAnswer search_subsets(const NestJudge& judge,
                                          const std::optional<double>& max_expanded,
                                          const SearchEffort& effort, const Watch& watch);

}  // namespace standpoint
