#pragma once

#include "io/use/answered.h"
#include "io/use/attendant.h"
#include "io/use/request.h"
#include "io/use/standing_place.h"
#include "standpoint/cell.h"
#include "standpoint/sight.h"

namespace standpoint {

/// `sight`: everything as seen from one place.
struct SightAnswer {
  Cell cell;
  StandingPlace place;  ///< with what standing there, and not where it was planned, gains and loses
  Sight sight;
};

/// Faults: those of the scene file, then those of the place.
[[nodiscard]] Answered<SightAnswer> look(const Request& request, const Attendant& attendant);

}  // namespace standpoint
