#pragma once

#include <compare>
#include <limits>
#include <vector>

#include "planner/nests/nest_judge.h"
#include "standpoint/plan.h"

namespace standpoint {

/// How good a set of sites is: tied first, then the smallest worst uncertainty.
struct SetScore {
  int missing = 0;                                         ///< NestTies::missing
  double worst = std::numeric_limits<double>::infinity();  ///< mm; infinite without figures

  friend auto operator<=>(const SetScore&, const SetScore&) = default;
};

/// A set and what it is worth. Ordered by score, equals by their sites.
struct ScoredSet {
  SetScore score;
  SiteSet sites;

  friend bool operator==(const ScoredSet&, const ScoredSet&) = default;
  // By hand: in the library that the page is built with, a vector has no <=>.
  friend bool operator<(const ScoredSet& a, const ScoredSet& b) {
    return a.score != b.score ? a.score < b.score : a.sites < b.sites;
  }
};

[[nodiscard]] SetScore score_of(const NestJudge& judge, const SiteSet& sites);

/// More swaps than this in one round, and only some sites are swapped out. Larger: slower, and a
/// little better.
inline constexpr std::size_t kMostSwaps = 1000;

/// Swaps one site at a time against another useful one, the best swap of each round, until none
/// helps. Where a round has more than `kMostSwaps` swaps only the four sites that are missed least
/// are swapped out (after M. E. Johnson and C. J. Nachtsheim, Technometrics 25 (1983) 271-277). On
/// all cores, deterministic. O(rounds x size x sites) scores, most of them ended early by the
/// bound.
[[nodiscard]] ScoredSet exchange(const NestJudge& judge, SiteSet start, const Watch& watch);

/// The best site to add: `sites` with one more useful one. Precondition: there is one.
[[nodiscard]] ScoredSet with_best_addition(const NestJudge& judge, const SiteSet& sites);

/// The best with one site less. Precondition: there is one.
[[nodiscard]] ScoredSet with_best_removal(const NestJudge& judge, const SiteSet& sites);

}  // namespace standpoint
