#pragma once

#include <cstdint>
#include <optional>

#include "planner/nests/nest_judge.h"
#include "standpoint/plan.h"

namespace standpoint {

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
