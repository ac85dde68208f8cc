#pragma once

#include "io/read/cad/annotation_records.h"
#include "planner/part/annotation.h"

namespace standpoint {

/// Adds every geometric tolerance of the file to `annotation`, in the file's order: read, or not
/// read with the reason. O(n log n).
void read_tolerances(const AnnotationRecords& records, Annotation& annotation);

}  // namespace standpoint
