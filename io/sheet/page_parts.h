#pragma once

#include <string>
#include <string_view>

#include "planner/plan.h"
#include "planner/planning/cautions.h"
#include "planner/scene.h"

namespace standpoint::page {

// The sections of the page, each a piece of HTML; empty where there is nothing to say.

/// What the page may do: nothing from outside. `is_live`: its own script and worker as well.
[[nodiscard]] std::string security_policy(bool is_live);
/// The data and the script with which the plan can be tried out.
[[nodiscard]] std::string live_blocks(const Scene& scene, std::string_view plan_json);
/// Says that this program was built without the app.
[[nodiscard]] std::string why_not_live();
/// The style of the set-up sheet and its drawings, without <style>: everything under the class
/// `sheet`, but for the paper's margins. The page sets no other.
[[nodiscard]] std::string style();
[[nodiscard]] std::string stations_table(const Scene& scene, const Plan& plan);
[[nodiscard]] std::string links_table(const Scene& scene, const Plan& plan);
[[nodiscard]] std::string blocked_list(const Scene& scene, const Plan& plan);
[[nodiscard]] std::string warnings_list(const Scene& scene, const Plan& plan);
[[nodiscard]] std::string cautions_list(const Scene& scene, const Plan& plan,
                                        const Cautions& cautions);
[[nodiscard]] std::string field_check(const Scene& scene, const Plan& plan);

}  // namespace standpoint::page
