#pragma once

#include <string>
#include <vector>

#include "io/read/cad/annotation_records.h"
#include "planner/part/annotation.h"

namespace standpoint {

/// The datums of a file, by letter, each with the faces of its features or under its targets. Two
/// datums of one letter (of two parts) stay two. O(n log n).
[[nodiscard]] std::vector<DatumFeature> read_datums(const AnnotationRecords& records);

/// The datums that a tolerance refers to, in their order of precedence: "A"; with a modifier
/// "B(M)"; common "A-B". `references`: the list of a geometric_tolerance_with_datum_reference;
/// takes null. A reference that leads nowhere is "?". O(its length).
[[nodiscard]] std::vector<std::string> datum_references(const AnnotationRecords& records,
                                                        const Part21Value* references);

/// The sign of a modifier: "(M)" for MAXIMUM_MATERIAL_REQUIREMENT, as ISO 1101 and ISO 2692 have it
/// in a circle; for those without a sign here the word in lower case, in brackets. O(n).
[[nodiscard]] std::string modifier_sign(const std::string& word);

}  // namespace standpoint
