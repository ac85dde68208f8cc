#pragma once

#include <vector>

#include "io/read/cad/annotation_records.h"
#include "planner/part/annotation.h"

namespace standpoint {

/// The dimensions that have limits: as deviations (plus_minus_tolerance) or as greatest and
/// smallest value. Those with a class of fit alone ("H7"), and basic ones, which have none, are
/// left out. In the file's order. O(n log n).
[[nodiscard]] std::vector<SizeTolerance> read_sizes(const AnnotationRecords& records);

}  // namespace standpoint
