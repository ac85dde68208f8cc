#pragma once

#include <optional>

#include "io/use/answered.h"
#include "io/use/attendant.h"
#include "io/use/request.h"
#include "io/use/standing_place.h"
#include "io/use/why_plan.h"
#include "standpoint/cell.h"
#include "standpoint/why.h"

namespace standpoint {

/// `why`: what stands in a beam, and what would fix it.
struct WhyAnswer {
  Cell cell;  ///< with the sites of the plan, where one is given, among its nests
  Diagnosis diagnosis;
  StandingPlace place;
  std::optional<WhyPlan> plan;
};

/// What a question is about, before anything is searched. Faults: those of the scene file; those of
/// the plan file; all that is wrong with the place and the name that is asked about.
struct WhyQuestion {
  Cell cell;
  Subject subject;
  StandingPlace place;
  std::optional<ReadPlan> plan;
};
[[nodiscard]] Answered<WhyQuestion> take_question(const Request& request,
                                                  const Attendant& attendant);

/// Faults where the plan is of another scene.
[[nodiscard]] Answered<WhyAnswer> ask_why(const Request& request, WhyQuestion question,
                                          const Attendant& attendant);

}  // namespace standpoint
