#pragma once

#include "io/use/standing_place.h"
#include "io/words/json_parts.h"

namespace standpoint {

namespace json {

/// The value of the key "measured" of sight and why: the set-up that nests and part give, lengths
/// in the scene's units (docs/measured.md). Precondition: `place.measured`.
[[nodiscard]] Json measured(const Scene& scene, const StandingPlace& place);

}  // namespace json
}  // namespace standpoint
