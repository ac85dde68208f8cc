#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "standpoint/sight.h"

namespace standpoint {

// Where a blocked feature comes nearest to being reached: the one rule, for plan and page.

/// How near a feature comes to being reached from one place.
struct Nearness {
  int reached = 0;               ///< touches that some target reaches
  std::optional<double> margin;  ///< the mark's: of what is blocked the largest, in any one unit
};

[[nodiscard]] Nearness nearness_of(const FeatureMark& mark);

/// More touches reached; of equally many the larger margin, and any margin before none.
[[nodiscard]] bool is_nearer(const Nearness& a, const Nearness& b);

/// The first of those that none is nearer than; nothing of an empty list. O(places).
[[nodiscard]] std::optional<std::size_t> nearest_of(const std::vector<Nearness>& places);

}  // namespace standpoint
