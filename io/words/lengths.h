#pragma once

#include <string>

#include "geometry/vec.h"
#include "standpoint/scene.h"

namespace standpoint {

// On the way out millimetres become the scene's units and radians degrees. Nothing else converts.

[[nodiscard]] inline double to_scene_units(const Scene& scene, double mm) {
  return mm / scene.mm_per_unit;
}
[[nodiscard]] double to_degrees(double rad);

/// Finest step shown for each kind of quantity, mm. Files carry full precision; people need no more
/// digits than they can act on.
namespace step {
inline constexpr double kPlace = 1;           ///< where a stand is put, how far away something is
inline constexpr double kMargin = 0.1;        ///< margins, depths
inline constexpr double kUncertainty = 1e-3;  ///< a micrometre
inline constexpr double kSheet = 1e-3;        ///< coordinates in the .csv files
}  // namespace step

/// A number with `decimals` digits after the point; never "-0.0"; "-" where it is not finite.
[[nodiscard]] std::string fixed_text(double value, int decimals);

/// A length given in mm, in the scene's units with enough decimals to show `step_mm`, no unit
/// written: 1834.26 at step 1 is "1834" in a scene in mm, "1.834" in one in m. "-" where not
/// finite.
[[nodiscard]] std::string length_text(const Scene& scene, double mm, double step_mm);

/// The same, followed by the unit: "1834 mm".
[[nodiscard]] std::string length_with_unit(const Scene& scene, double mm, double step_mm);

/// A place, "1200, 0, 350", no unit.
[[nodiscard]] std::string place_text(const Scene& scene, const Vec3& at, double step_mm);

}  // namespace standpoint
