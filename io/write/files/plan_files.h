#pragma once

#include <vector>

#include "io/use/plan_scene.h"
#include "io/write/files/write_files.h"

namespace standpoint {

/// What `plan` writes (contract section 5): plan.json first, then stations.csv, touches.csv and
/// page.html.
[[nodiscard]] std::vector<OutFile> plan_files(const PlanAnswer& answer);

}  // namespace standpoint
