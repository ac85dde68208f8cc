#pragma once

#include "io/use/answered.h"
#include "io/use/attendant.h"
#include "planner/crew/cautions.h"
#include "planner/planning/advice.h"
#include "standpoint/nests.h"

namespace standpoint {

/// `nests`: stations and nests planned together, and what the plan hangs on.
struct NestsAnswer {
  NestChoice choice;
  Advice advice;
  Cautions cautions;
};

/// Faults where the scene offers no place for a nest: nest_sites_missing() alone, before any work.
[[nodiscard]] Answered<NestsAnswer> choose_sites(const Cell& cell, const Attendant& attendant);

/// The fault of a scene that offers no place for a nest; empty where it offers some.
[[nodiscard]] Faults nest_sites_missing(const Scene& scene);

}  // namespace standpoint
