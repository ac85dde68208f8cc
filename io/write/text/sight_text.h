#pragma once

#include <iosfwd>

#include "standpoint/scene.h"
#include "standpoint/sight.h"

namespace standpoint {

/// Prints what is seen from one place: features, nests, and why the blocked ones are blocked.
void print_sight(const Scene& scene, const Sight& sight, std::ostream& out);

}  // namespace standpoint
