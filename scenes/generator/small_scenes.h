#pragma once

#include <filesystem>
#include <string>

namespace standpoint::scenes {

/// A block behind a thin wire. From the place `gate` the beam is free; from `door` its axis passes
/// the wire 2.5 mm clear of it, but the beam is some 3.3 mm in radius: its rim is cut. Empty on
/// success, else what failed.
[[nodiscard]] std::string make_wire_scene(const std::filesystem::path& folder);

/// A plate with a dowel hole of 5 mm, in which a 38.1 mm ball does not centre itself and a 6 mm tip
/// does, beside a hole of 22 mm that suits the ball. Empty on success, else what failed.
[[nodiscard]] std::string make_dowel_scene(const std::filesystem::path& folder);

}  // namespace standpoint::scenes
