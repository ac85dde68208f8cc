#pragma once

#include <vector>

#include "io/use/plan_scene.h"
#include "io/write/files/write_files.h"

namespace standpoint {

/// What `plan` writes (contract section 5): plan.json first, then stations.csv, touches.csv and
/// page.html; where it is wanted, plan.qif (contract section 8).
[[nodiscard]] std::vector<OutFile> plan_files(const PlanAnswer& answer, bool with_qif = false);

}  // namespace standpoint
