#pragma once

#include <optional>
#include <vector>

#include <tl/expected.hpp>

#include "io/read/plan/read_plan.h"
#include "io/read/text/fault.h"
#include "io/use/request.h"
#include "standpoint/cell.h"
#include "standpoint/why.h"

namespace standpoint {

/// The plan that a place is asked about in.
struct WhyPlan {
  Plan plan;  ///< with its sights
  /// The plan's station that is asked about: named by --station, or standing at --at in the same
  /// way.
  std::optional<StationId> asked;
};

/// Looks from the plan's stations (look_again), and finds the one that is asked about. Faults where
/// the plan is of another scene. `cell`'s scene must have the plan's sites among its nests.
[[nodiscard]] tl::expected<WhyPlan, Faults> look_at_plan(const Cell& cell, const ReadPlan& read,
                                                         const Request& request,
                                                         const Stance& stance);

/// The plan's other stations, then those candidates that are no station of the plan.
[[nodiscard]] std::vector<OtherPlace> places_beside(const WhyPlan& plan,
                                                    const std::vector<OtherPlace>& candidates);

/// How a station of the plan sees the subject.
struct SubjectSeen {
  Verdict verdict = Verdict::blocked;
  std::optional<TargetId> target;
  std::optional<double> margin;
};
[[nodiscard]] SubjectSeen seen_from(const PlannedStation& station, Subject subject);

/// The touches of a shared feature that one station takes; those that none takes have no station.
struct TouchesFrom {
  std::optional<StationId> station;
  TargetId target;
  std::vector<std::size_t> touches;  ///< numbers in its mark, ascending
};
/// Of a feature that several stations of the plan take together: by station, those that none takes
/// last. Empty for every other subject.
[[nodiscard]] std::vector<TouchesFrom> shared_touches(const WhyPlan& plan, Subject subject);

/// The stations that the plan has for the subject: one for a feature, or those that share it; all
/// that see a nest.
[[nodiscard]] std::vector<StationId> stations_for(const WhyPlan& plan, Subject subject);

}  // namespace standpoint
