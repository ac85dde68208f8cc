#pragma once

#include <vector>

#include "planner/cover/cover.h"
#include "planner/planning/provisional_plan.h"
#include "planner/stations/candidates.h"
#include "planner/stations/reach_table.h"

namespace standpoint {

/// What is known when a plan is finished, apart from the plan itself.
struct Findings {
  const Scene& scene;
  const Candidates& candidates;
  const ReachTable& table;
  const CoverSolution& cover;
  const std::vector<CandidateId>& chosen;
  Figures figures = Figures::network;
};

/// Features that the plan does not measure, each as seen from the station where it comes nearest to
/// being reached (`is_nearer`; of equal ones the first). Empty where there is no station.
[[nodiscard]] std::vector<Unreached> find_unreached(const Cell& cell, const Plan& plan,
                                                    const std::vector<Candidate>& candidates);

/// Everything that somebody who reads the plan must be told, in the order of WarningKind.
[[nodiscard]] std::vector<Warning> find_warnings(const Findings& findings, const Plan& plan);

}  // namespace standpoint
