#pragma once

#include <string>
#include <string_view>

#include "standpoint/cell.h"

namespace standpoint::page {

// What makes the page more than a sheet.

/// What the page may do: nothing from outside. `is_live`: its own script and worker as well.
[[nodiscard]] std::string security_policy(bool is_live);
/// The data and the script with which the plan can be tried out.
[[nodiscard]] std::string live_blocks(const Cell& cell, std::string_view plan_json);
/// Says that this program was built without the app.
[[nodiscard]] std::string why_not_live();

}  // namespace standpoint::page
