#pragma once

#include <iosfwd>

#include "io/use/find_features.h"

namespace standpoint {

/// Prints what was found, counted by kind and size; lengths in mm. `details`: each feature too.
void print_features(const FeaturesAnswer& answer, bool details, std::ostream& out);

}  // namespace standpoint
