#pragma once

#include <cstddef>
#include <functional>
#include <vector>

#include "planner/planning/aims.h"
#include "planner/stations/reach_table.h"
#include "standpoint/plan.h"
#include "standpoint/scene.h"

namespace standpoint {

/// Among which sets of stations equal ones are looked for.
struct EqualSetQuestion {
  const Scene& scene;
  const std::vector<Candidate>& candidates;
  const ReachTable& table;
  /// Whether a set (ascending) is tied as contract section 4 asks.
  const std::function<bool(const std::vector<CandidateId>&)>& is_tied;
};

/// Where such a search ends.
struct EqualSetLimit {
  std::size_t sets = 0;   ///< found
  std::size_t steps = 0;  ///< branches taken
};

/// Where it ends for a plan.
inline constexpr EqualSetLimit kEqualSetLimit{20000, 200000};

struct EqualSets {
  std::vector<std::vector<CandidateId>> sets;  ///< each ascending; `chosen` among them
  bool is_all = false;                         ///< whether there are no others
};

/// Sets that equal `chosen` (ascending) in the first three aims of contract section 4: the same
/// cost (as many stations, where all cost the same), the kept ones among them, as much covered, as
/// many features by full target, tied. All of them, or as many as were found when a limit was met.
///
/// Branches on the required feature that the fewest candidates reach, over these candidates, and
/// over leaving it out as far as `chosen` leaves features out. Exponential at worst, O(features)
/// a step. The sets, not their order, are the same for any order of candidates and features, as
/// long as no limit is met.
[[nodiscard]] EqualSets equal_sets(const EqualSetQuestion& question,
                                   const std::vector<CandidateId>& chosen,
                                   const EqualSetLimit& limit);

}  // namespace standpoint
