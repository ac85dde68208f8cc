#pragma once

#include "rows.h"

namespace standpoint::scenes {

/// The instrument that all scenes use. Its figures are invented, and so are those of the styli.
[[nodiscard]] Json instrument();
/// A 38.1 mm ball: the trade's usual full target.
[[nodiscard]] Json ball_38();
/// A mirror stylus with a 6 mm tip, 85 mm long.
[[nodiscard]] Json mirror_stylus();
/// A two-ball rod with a 6 mm tip.
[[nodiscard]] Json two_ball_rod();

}  // namespace standpoint::scenes
