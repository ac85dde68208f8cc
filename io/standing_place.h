#pragma once

#include <tl/expected.hpp>

#include "io/command_line.h"
#include "io/fault.h"
#include "planner/scene.h"

namespace standpoint {

/// Where --at or --station puts the measuring centre, mm; a fault where no fixed place has the
/// name.
[[nodiscard]] tl::expected<Vec3, Faults> standing_place(const Request& request, const Scene& scene);

}  // namespace standpoint
