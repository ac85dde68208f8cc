#pragma once

#include <optional>

#include "standpoint/cell.h"

namespace standpoint {

/// Where a station may be moved to.
struct Whereabouts {
  std::optional<std::uint32_t> zone;  ///< index into Scene::zones that holds it in plan
  Interval heights;                   ///< z of the measuring centre, mm

  /// Whether (x, y) may be stood on: inside or on the zone, over no hole of it and no keep-out;
  /// without a zone only where it stands.
  [[nodiscard]] bool may_stand_at(const Scene& scene, const Vec2& at) const;
};

/// The first zone whose polygon holds the station in plan and whose floor is below it, with the
/// span of its heights (widened to hold the station's own); without one, `free_height` up and down.
[[nodiscard]] Whereabouts whereabouts(const Scene& scene, const Vec3& station, double free_height);

}  // namespace standpoint
