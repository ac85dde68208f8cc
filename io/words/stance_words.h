#pragma once

#include <string>

#include "standpoint/plan.h"
#include "standpoint/scene.h"

namespace standpoint {

// How an instrument stands, in words for people.

/// "upright", "tilted by 30.0 degrees", "on its side", "hanging, head down" or "hanging, tilted by
/// 20.0 degrees": from its standing axis (unit).
[[nodiscard]] std::string stance_words(const Vec3& up);

/// The same, and where its head points: "on its side, its head toward (0, 1, 0)". Upright: that
/// word alone.
[[nodiscard]] std::string stance_with_head(const Vec3& up);

/// ", the instrument on its side, its head toward (0, 1, 0)": to go on after a place. Empty where
/// it stands upright.
[[nodiscard]] std::string after_place(const Vec3& up);

/// What stands in a table of stations: "south aisle", "fixed place; on its side".
[[nodiscard]] std::string where_words(const Scene& scene, const PlannedStation& station);

}  // namespace standpoint
