#pragma once

#include "io/use/standing_place.h"
#include "io/words/json_parts.h"

namespace standpoint {

namespace json {

/// The pose of an instrument: "translate", "rotation".
[[nodiscard]] Json pose(const Scene& scene, const Pose& world_from_instrument);

/// The value of "part" in "measured": what each reading of nests and features leaves, and what does
/// not fit (docs/measured.md).
[[nodiscard]] Json part(const Scene& scene, const PartStation& part);

/// The value of "movement" in "measured": nests that were read again.
[[nodiscard]] Json movement(const Scene& scene, const Movement& movement);

}  // namespace json
}  // namespace standpoint
