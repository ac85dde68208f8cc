#pragma once

#include "io/use/answered.h"
#include "io/use/attendant.h"
#include "io/use/request.h"
#include "standpoint/cell.h"
#include "standpoint/plan.h"
#include "standpoint/rehearsal.h"

namespace standpoint {

/// `rehearse`: a plan's observations simulated many times.
struct RehearsalAnswer {
  Cell cell;  ///< with the plan's sites among its nests
  Plan plan;
  Rehearsal rehearsal;
};

/// Faults: those of the scene file, those of the plan file, or that there is no network to adjust.
[[nodiscard]] Answered<RehearsalAnswer> rehearse_plan(const Request& request,
                                                      const Attendant& attendant);

}  // namespace standpoint
