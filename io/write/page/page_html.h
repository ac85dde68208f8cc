#pragma once

#include <string>
#include <string_view>

#include "planner/crew/cautions.h"
#include "standpoint/cell.h"
#include "standpoint/plan.h"

namespace standpoint {

/// The page of a plan: one HTML file that needs nothing from outside, for the screen and for paper
/// (A4 and Letter). Drawings, tables, what is blocked and why, cautions, field check. Names are
/// made safe. Same input, same bytes. O(triangles of the scene + touches of the plan).
/// With `plan_json` (plan_json.h) the page carries the scene, its meshes and the app as well, and
/// the plan can be tried out in it; a program built without the app says so instead.
[[nodiscard]] std::string page_html(const Cell& cell, const Plan& plan, const Cautions& cautions,
                                    std::string_view plan_json = {});

}  // namespace standpoint
