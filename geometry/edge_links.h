#pragma once

#include <cstdint>
#include <vector>

#include "standpoint/shapes.h"

namespace standpoint {

/// Which triangles of a mesh meet at an edge.
///
/// Side 3 i + k of a mesh goes from corner k of triangle i to the next corner. Sides that join the
/// same two vertices, whichever way, are linked in a circle: a side of a rim is linked to itself,
/// two triangles that share an edge to each other. Immutable; any thread may ask.
class EdgeLinks {
 public:
  /// O(n log n) in triangles; 12 bytes each are kept. Precondition: indices in range.
  explicit EdgeLinks(const Mesh& mesh);

  /// The next side of the circle. O(1).
  [[nodiscard]] std::uint32_t next(std::uint32_t side) const { return next_[side]; }

 private:
  std::vector<std::uint32_t> next_;
};

}  // namespace standpoint
