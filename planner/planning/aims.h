#pragma once

#include <cmath>
#include <compare>
#include <vector>

#include "planner/stations/reach_table.h"
#include "standpoint/scene.h"

namespace standpoint {

/// How a set of candidates stands in the aims that are counted (contract section 4): the first
/// three.
struct AimCount {
  int covered = 0;     ///< sum over required features of min(times reached, times asked)
  long long cost = 0;  ///< of all of them, in millionths
  int full = 0;        ///< features, required or not, reached by full target

  friend auto operator<=>(const AimCount&, const AimCount&) = default;
};

/// What a candidate costs, in millionths: whole numbers add up exactly. O(1).
[[nodiscard]] inline long long cost_in_millionths(const Candidate& candidate) {
  constexpr double kMillion = 1e6;
  return std::llround(candidate.cost * kMillion);
}

/// A feature that none of them takes alone counts where they take it together. `chosen` ascending.
/// O(features x chosen).
[[nodiscard]] AimCount count_aims(const Scene& scene, const std::vector<Candidate>& candidates,
                                  const ReachTable& table, const std::vector<CandidateId>& chosen);

}  // namespace standpoint
