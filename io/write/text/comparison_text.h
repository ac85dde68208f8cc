#pragma once

#include <iosfwd>
#include <string>

#include "io/use/compare_plans.h"

namespace standpoint {

/// Prints what changed, in at most ten lines where both plans are of one scene and one unit, and a
/// line more for each of these that is not so. `from` and `to` name the plans. Lengths are in the
/// units of the plan after.
void print_comparison(const CompareAnswer& answer, const std::string& from, const std::string& to,
                      std::ostream& out);

/// Prints every change: each feature, station and tie.
void print_comparison_details(const CompareAnswer& answer, std::ostream& out);

}  // namespace standpoint
