#pragma once

#include <string>
#include <vector>

#include "standpoint/cell.h"

namespace standpoint {

/// All bodies' meshes as the page carries them, docs/page-engine.md, "The meshes": vertices,
/// triangles and their order, and face numbers, every bit of them, as text of printable ASCII
/// without '<', '&', quotes and backslash. Same meshes, same bytes. O(n); about five times the
/// meshes' memory. Throws std::bad_alloc.
[[nodiscard]] std::string pack_meshes(const Cell& cell);

}  // namespace standpoint
