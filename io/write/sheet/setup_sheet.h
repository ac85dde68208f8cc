#pragma once

#include <string>

#include "planner/crew/cautions.h"
#include "standpoint/cell.h"
#include "standpoint/plan.h"

namespace standpoint {

/// The set-up sheet of a plan: one element of class `sheet`, for the screen and for paper (A4 and
/// Letter, black and white), readable without scripts. First what concerns the whole job: key
/// numbers, drawings, what is blocked and why, ties, cautions, field check. Then a part for each
/// station that begins a page of paper. At its top a hidden <p class="moved-notice">, for a page
/// that lets stations be moved to show. Names are made safe. Same input, same text.
/// O(triangles of the scene + touches of the plan).
[[nodiscard]] std::string setup_sheet(const Cell& cell, const Plan& plan, const Cautions& cautions);

}  // namespace standpoint
