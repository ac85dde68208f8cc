#pragma once

#include <vector>

#include "io/read/measured/measured_csv.h"
#include "io/read/text/fault.h"
#include "planner/setup/resection.h"

namespace standpoint {

/// Why the nests that were read give no set-up, each with the lines it is about.
[[nodiscard]] Faults set_up_faults(const Scene& scene, const MeasuredNests& read,
                                   const std::vector<SetUpFault>& faults);

/// Why nests and touches together give none: faults of `stand_by_part`, by rows.
[[nodiscard]] Faults part_set_up_faults(const Scene& scene, const MeasuredNests& read,
                                        const std::vector<SetUpFault>& faults);

}  // namespace standpoint
