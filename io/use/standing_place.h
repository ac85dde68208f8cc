#pragma once

#include <optional>

#include <tl/expected.hpp>

#include "io/read/plan/read_plan.h"
#include "io/read/text/fault.h"
#include "io/use/request.h"
#include "planner/setup/movement.h"
#include "planner/setup/part_set_up.h"
#include "planner/setup/resection.h"
#include "planner/why/subject.h"
#include "standpoint/scene.h"

namespace standpoint {

/// How the real place differs from the one that was planned.
struct PlannedPlace {
  Vec3 at = Vec3::Zero();   ///< measuring centre that was planned, mm
  Effect effect;            ///< from the planned to the real place, of what was asked about
  Vec3 up = Vec3::UnitZ();  ///< standing axis that was planned
};

/// Where to look from.
struct StandingPlace {
  Vec3 at = Vec3::Zero();               ///< measuring centre, mm
  std::optional<RealStation> measured;  ///< with --measured; `at` is then its measuring centre
  std::optional<PlannedPlace> planned;  ///< with --measured and --at or --station; no effect yet
  Vec3 up = Vec3::UnitZ();              ///< the instrument's standing axis
  std::optional<PartStation> part;      ///< with --measured, where the file names features
  std::optional<Movement> movement;     ///< with --measured, where nests were read again at the end
};

/// How the instrument stands at a place, and how it was planned to. O(1).
[[nodiscard]] inline Stance stance_of(const StandingPlace& place) {
  return {place.at, place.up};
}
[[nodiscard]] inline Stance stance_of(const PlannedPlace& place) {
  return {place.at, place.up};
}

/// Where --measured, --at or --station puts the measuring centre. How the instrument stands there:
/// as --up says; else as the plan has its station, or as the fixed place says first; upright at
/// --at; with --measured as the readings tell (`stance_of` of resection.h). With a plan, --station
/// may also name one of its stations. Faults where nothing has the name, or a fixed place and a
/// station of the plan that stand apart both have it, and all that is wrong with the measured nests
/// (read_measured; resect, or where the file names features stand_by_part).
[[nodiscard]] tl::expected<StandingPlace, Faults> standing_place(const Request& request,
                                                                 const Scene& scene,
                                                                 const ReadPlan* plan = nullptr);

}  // namespace standpoint
