#pragma once

#include "io/use/answered.h"
#include "io/use/attendant.h"
#include "planner/crew/cautions.h"
#include "planner/planning/advice.h"
#include "standpoint/cell.h"
#include "standpoint/plan.h"

namespace standpoint {

/// `plan`: a plan, what it hangs on, and what to take care of.
struct PlanAnswer {
  Cell cell;
  Plan plan;
  Advice advice;
  Cautions cautions;
};

/// Plans a cell, and looks into the plan. The reason for no answer can only be an interruption.
[[nodiscard]] Answered<PlanAnswer> plan_scene(const Cell& cell, const Attendant& attendant);

/// Looks into a plan of this cell that is made already. The only reason for no answer is an
/// interruption.
[[nodiscard]] Answered<PlanAnswer> look_into_plan(const Cell& cell, Plan plan,
                                                  const Attendant& attendant);

}  // namespace standpoint
