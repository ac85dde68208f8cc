#pragma once

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>

#include "geometry/trigonometry.h"
#include "geometry/vec.h"

namespace standpoint {

// Searches for the smallest change that works, where "works" is any yes-or-no question. They look
// at steps outward, so a set of answers thinner than a step may be missed, and narrow the first
// success down by halving to `width`.

/// The smallest share of `change` (0..1) beyond which, as halving finds it, it works; the answer
/// itself was asked and works. Preconditions: works(1), !works(0) is not needed.
template <class Works>
double narrowed(double fails, double succeeds, double width, Works works) {
  while (succeeds - fails > width) {
    const double middle = (fails + succeeds) / 2;
    (works(middle) ? succeeds : fails) = middle;
  }
  return succeeds;
}

/// The value nearest to `from` within `allowed` for which it works; up before down at equal
/// distance. Asked at `from` plus and minus multiples of `step`, and at the ends.
template <class Works>
std::optional<double> smallest_step(double from, const Interval& allowed, double step, double width,
                                    Works works) {
  const double most = std::max(allowed.high - from, from - allowed.low);
  for (double off = step; off - step < most; off += step) {
    for (const double sign : {1.0, -1.0}) {
      const double end = sign > 0 ? allowed.high - from : from - allowed.low;
      const double reach = std::min(off, end);
      if (reach <= off - step || !works(from + sign * reach)) continue;
      return from + sign * narrowed(off - step, reach, width,
                                    [&](double d) { return works(from + sign * d); });
    }
  }
  return std::nullopt;
}

/// The shortest level shift for which it works: rings `step` apart, out to `longest`, in
/// `directions` directions at the first ring and more as the rings grow (every `step` of arc, at
/// most 8 x directions); of the directions that work at the first ring with a success the one that
/// narrows down to the shortest.
template <class Works>
std::optional<Vec2> smallest_shift(double step, double longest, double width, Works works,
                                   int directions = 16) {
  for (int ring = 1; ring * step <= longest + 1e-9; ++ring) {
    const double radius = ring * step;
    const int count = std::clamp(static_cast<int>(std::ceil(2 * std::numbers::pi * ring)),
                                 directions, 8 * directions);
    std::optional<Vec2> shortest;
    for (int i = 0; i < count; ++i) {
      const double angle = 2 * std::numbers::pi * i / count;
      const Vec2 along(cosine(angle), sine(angle));
      if (!works(radius * along)) continue;
      const double r =
          narrowed(radius - step, radius, width, [&](double d) { return works(d * along); });
      if (!shortest || r < shortest->norm()) shortest = r * along;
    }
    if (shortest) return shortest;
  }
  return std::nullopt;
}

}  // namespace standpoint
