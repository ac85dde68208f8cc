#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "io/read/scene/scene_parts.h"

namespace standpoint {

/// The type of a feature as the scene names it: its number among the alternatives of `Shape`.
[[nodiscard]] std::optional<std::size_t> read_shape_type(const Cursor& at);

/// The keys of one type's features besides those that all have; of all types where it is unknown.
[[nodiscard]] std::vector<std::string_view> shape_keys(std::optional<std::size_t> type);

/// Where the feature is and what it looks like, in the coordinates of its file, mm. Tells all
/// faults within; what could not be read has its default. Precondition: the type is no surface,
/// which `read_surface` reads.
[[nodiscard]] Shape read_shape(const ObjectCursor& object, std::size_t type,
                               const SceneReading& reading);

/// How many touches may be asked for. A point is one touch and a plane one for each of its points.
[[nodiscard]] NumberRule touch_count_rule(const Shape& shape);

/// The number of the type `surface`.
inline constexpr std::size_t kSurfaceType = 8;

}  // namespace standpoint
