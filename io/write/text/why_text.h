#pragma once

#include <iosfwd>

#include "io/use/ask_why.h"

namespace standpoint {

/// Prints a diagnosis for people: where the instrument really stands, where that was measured; what
/// is in the way, how badly, and the cures; how the plan stands to it where one was given.
void print_why(const WhyAnswer& answer, std::ostream& out);

}  // namespace standpoint
