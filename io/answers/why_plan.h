#pragma once

#include <iosfwd>
#include <optional>
#include <vector>

#include <nlohmann/json_fwd.hpp>
#include <tl/expected.hpp>

#include "io/answers/request.h"
#include "io/scene/fault.h"
#include "io/scene/read_plan.h"
#include "planner/cell.h"
#include "planner/why/diagnosis.h"

namespace standpoint {

/// The plan that a place is asked about in.
struct WhyPlan {
  Plan plan;  ///< with its sights
  /// The plan's station that is asked about: named by --station, or standing at --at.
  std::optional<StationId> asked;
};

/// Looks from the plan's stations (look_again), and finds the one that is asked about. Faults where
/// the plan is of another scene. `cell`'s scene must have the plan's sites among its nests.
[[nodiscard]] tl::expected<WhyPlan, Faults> look_at_plan(const Cell& cell, const ReadPlan& read,
                                                         const Request& request, const Vec3& at);

/// The plan's other stations, then those candidates that are no station of the plan.
[[nodiscard]] std::vector<OtherPlace> places_beside(const WhyPlan& plan,
                                                    const std::vector<OtherPlace>& candidates);

/// Prints how the plan measures the subject, and how each of its other stations sees it.
void print_why_plan(const Scene& scene, const WhyPlan& plan, Subject subject, std::ostream& out);

namespace json {
/// The same as one object (docs/why.md).
[[nodiscard]] nlohmann::ordered_json why_plan(const Scene& scene, const WhyPlan& plan,
                                              Subject subject);
}  // namespace json

}  // namespace standpoint
