#pragma once

#include "planner/scene.h"

namespace standpoint {

// Copies of a scene in which one thing is otherwise.

/// Without one body's surface; ids stay as they are.
[[nodiscard]] Scene without_body(const Scene& scene, BodyId body);

/// With one body shifted, mm.
[[nodiscard]] Scene with_body_moved(const Scene& scene, BodyId body, const Vec3& shift);

/// With the part shifted, its features with it; nests, fixtures and surroundings stay. mm.
[[nodiscard]] Scene with_part_moved(const Scene& scene, const Vec3& shift);

/// With only the triangles whose boxes meet the box [low, high]; what a search looks at again and
/// again. Verdicts that depend on nothing outside the box are the same.
[[nodiscard]] Scene cut_to_box(const Scene& scene, const Vec3& low, const Vec3& high);

/// With every target allowed for one feature.
[[nodiscard]] Scene with_all_targets(const Scene& scene, FeatureId feature);

}  // namespace standpoint
