#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "geometry/vec.h"

namespace standpoint {

/// Whether some of the places are off one line.
enum class SomeOffLine : std::uint8_t {
  yes,       ///< a set of them was found that is
  no,        ///< proven: no set of them is
  given_up,  ///< neither was found within the effort; counts as no. Never up to 16 places
};

/// Whether some of `places`, at least `least` of them, are off one line as `are_off_one_line` asks.
/// Its answer can not turn from yes to no when a place is added: every set of them is still there.
///
/// All sets are gone through under the two of their places that are farthest apart, and sets that
/// begin alike are left out together where a bound proves that none of them is off one line
/// (docs/stations.md derives both bounds). Effort is counted in sets, never in seconds. mm, any
/// frame; places may coincide. Pure. Up to 131072 sets, each O(places^2); often O(places^3) in all.
/// More than 500 places are searched in parts of so many.
[[nodiscard]] SomeOffLine some_off_line(const std::vector<Vec3>& places, std::size_t least);

/// What would end that some places are all in one line.
struct LineRemedy {
  std::size_t first = 0, last = 0;  ///< the two places that are farthest apart
  /// One more place that stands at least so far off the line through these two, and level with a
  /// point between them, makes all of them together off one line (derived in docs/stations.md). mm;
  /// 0 where all places coincide.
  double off_mm = 0;
};

/// Precondition: at least two places, which are not off one line. Pure, O(places^2).
[[nodiscard]] LineRemedy line_remedy(const std::vector<Vec3>& places);

}  // namespace standpoint
