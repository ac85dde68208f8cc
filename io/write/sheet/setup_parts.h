#pragma once

#include <optional>
#include <string>
#include <vector>

#include "io/write/drawings/plan_drawing.h"
#include "planner/crew/stand_marks.h"
#include "planner/crew/work_order.h"
#include "standpoint/plan.h"
#include "standpoint/scene.h"

namespace standpoint::page {

// The pieces of one station's part of the set-up sheet.

/// A station of the plan, and what its sheet is written from.
struct StationSheet {
  const Scene& scene;
  const Plan& plan;
  StationId id;
  const StationWork& work;
  std::vector<Landmark> marks;  ///< to measure from
  const PlanDrawings& drawings;

  [[nodiscard]] const PlannedStation& station() const { return plan.stations[id.index]; }
};

/// The whole part, from its heading to its signatures: a <section> that begins a page of paper.
[[nodiscard]] std::string station_section(const StationSheet& sheet);

/// A floor plan that shows where the stand goes, with dimensions from `marks` (A, B, C): an <svg>.
/// The ground comes from the plan's own drawing, which must be on the same page.
[[nodiscard]] std::string station_drawing(const StationSheet& sheet);

/// The features that hold the part's frame, as far as they are taken from here.
[[nodiscard]] std::string alignment_to_take(const StationSheet& sheet);
/// The nests with room for a first and a last reading, each turn with what to tell the software.
[[nodiscard]] std::string nests_to_take(const StationSheet& sheet);
/// What is done with the nests at the end.
[[nodiscard]] std::string nests_again(const StationSheet& sheet);
/// The features, grouped by target, with space for what was found.
[[nodiscard]] std::string features_to_take(const StationSheet& sheet);

/// The expected difference (95 %) of two readings of a nest from one station: how much they may
/// differ in one coordinate, in the worst direction, at coverage factor 2, mm. Each has the
/// covariance of its reading (contract section 6) and that of the ball put back into its nest, and
/// they are independent (derived here). Nothing where the scene states no error.
[[nodiscard]] std::optional<double> reading_spread(const StationSheet& sheet, NestId nest);

}  // namespace standpoint::page
