#pragma once

#include <iosfwd>
#include <string>

#include "io/read/text/fault.h"

namespace standpoint {

/// Prints one fault a line: "where: value: allowed", without the value where there is none.
void print_faults(const Faults& faults, std::ostream& err);

/// {"format": "standpoint-faults", "version": 1, "faults": [{"where", "value", "allowed",
/// "kind"}]}.
[[nodiscard]] std::string faults_json(const Faults& faults);

}  // namespace standpoint
