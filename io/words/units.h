#pragma once

#include <array>
#include <numbers>
#include <string_view>

namespace standpoint {

/// The units of length a scene may use, and what one of each is in mm (inch and foot are the
/// international ones: exactly 25.4 mm and 304.8 mm, the agreement of 1959).
inline constexpr std::array<std::string_view, 5> kUnitNames{"mm", "cm", "m", "in", "ft"};
inline constexpr std::array<double, 5> kMmPerUnit{1, 10, 1000, 25.4, 304.8};

/// Angles are degrees in files, radians inside.
[[nodiscard]] constexpr double rad_from_deg(double deg) {
  return deg * (std::numbers::pi / 180);
}

}  // namespace standpoint
