#pragma once

#include <vector>

#include "geometry/vec.h"
#include "planner/cover/bits.h"

namespace standpoint {

/// Quick proof that some places are off one line, for many subsets of the same places.
///
/// The greatest distance of some places from *any* line is at least that of three of them, and
/// every line is at least half a triangle's least height away from one of its corners. So places
/// that hold a triangle whose least height is 1/10 of their spread are off one line as
/// `are_off_one_line` asks (derived here; the line in the triangle's plane half-way up the least
/// height does best). The triangles are kept for one bound on the spread. Immutable.
class WideTriangles {
 public:
  /// Beyond this many places the table (places^3 bits) is left empty: nothing is proven then.
  static constexpr std::size_t kMostPlaces = 300;

  /// For subsets whose spread is at most `spread`, mm. O(places^3).
  WideTriangles(const std::vector<Vec3>& places, double spread);

  [[nodiscard]] double spread() const { return spread_; }

  /// Whether `subset` holds a triangle that proves it off one line. False proves nothing.
  [[nodiscard]] bool prove_off_one_line(ConstBitSpan subset) const;

 private:
  std::size_t count_ = 0;
  double spread_ = 0;
  BitMatrix third_;  ///< row a * count + b, a < b: the c > b whose triangle with a and b is wide
};

}  // namespace standpoint
