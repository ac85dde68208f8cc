#pragma once

#include <string>

#include "planner/crew/cautions.h"
#include "standpoint/plan.h"
#include "standpoint/scene.h"

namespace standpoint::page {

// The sections of the page, each a piece of HTML; empty where there is nothing to say.

/// The style of the set-up sheet and its drawings, without <style>: everything under the class
/// `sheet`, but for the paper's margins. The page sets no other.
[[nodiscard]] std::string style();
[[nodiscard]] std::string stations_table(const Scene& scene, const Plan& plan);
[[nodiscard]] std::string links_table(const Scene& scene, const Plan& plan);
/// The touches that hold the part's frame, with what each should leave; empty without an alignment.
[[nodiscard]] std::string alignment_table(const Scene& scene, const Plan& plan);
[[nodiscard]] std::string blocked_list(const Scene& scene, const Plan& plan);
[[nodiscard]] std::string warnings_list(const Scene& scene, const Plan& plan);
[[nodiscard]] std::string cautions_list(const Scene& scene, const Plan& plan,
                                        const Cautions& cautions);
[[nodiscard]] std::string field_check(const Scene& scene, const Plan& plan);

}  // namespace standpoint::page
