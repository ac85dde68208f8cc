#pragma once

#include "standpoint/cell.h"

namespace standpoint {

// Copies of a cell in which one thing is otherwise. What stays the same is shared: only the meshes
// that change are copied. Each builds a tree, but for with_all_targets.

/// Without one body's surface; ids stay as they are.
[[nodiscard]] Cell without_body(const Cell& cell, BodyId body);

/// Without the surfaces of the part; ids stay as they are.
[[nodiscard]] Cell without_part(const Cell& cell);

/// With one body shifted, mm.
[[nodiscard]] Cell with_body_moved(const Cell& cell, BodyId body, const Vec3& shift);

/// With the part shifted, its features with it; nests, fixtures and surroundings stay. mm.
[[nodiscard]] Cell with_part_moved(const Cell& cell, const Vec3& shift);

/// With only the triangles whose boxes meet the box [low, high]; what a search looks at again and
/// again. Verdicts that depend on nothing outside the box are the same.
[[nodiscard]] Cell cut_to_box(const Cell& cell, const Vec3& low, const Vec3& high);

/// With every target allowed for one feature. Shares the tree.
[[nodiscard]] Cell with_all_targets(const Cell& cell, FeatureId feature);

}  // namespace standpoint
