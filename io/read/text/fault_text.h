#pragma once

#include <iosfwd>
#include <string>

#include "io/read/text/fault.h"

namespace standpoint {

/// One fault as people read it, safe for a terminal, on one line: "where: got X, expected Y;
/// nearest: Z"; "where: missing, expected Y" where nothing stands; without "nearest" where no name
/// is near. The one place that words a fault (docs/messages.md).
[[nodiscard]] std::string fault_words(const Fault& fault);

/// Prints one fault a line.
void print_faults(const Faults& faults, std::ostream& err);

/// {"format": "standpoint-faults", "version": 1, "faults": [{"where", "value", "allowed",
/// "nearest", "kind"}]}; "nearest" is null where no name is near.
[[nodiscard]] std::string faults_json(const Faults& faults);

}  // namespace standpoint
