#include "planner/reach/nearness.h"

#include <algorithm>

namespace standpoint {

Nearness nearness_of(const FeatureMark& mark) {
  const auto reached =
      std::count_if(mark.touches.begin(), mark.touches.end(),
                    [](const TouchMark& touch) { return touch.verdict != Verdict::blocked; });
  return {static_cast<int>(reached), mark.margin};
}

bool is_nearer(const Nearness& a, const Nearness& b) {
  if (a.reached != b.reached) return a.reached > b.reached;
  return a.margin && (!b.margin || *a.margin > *b.margin);
}

std::optional<std::size_t> nearest_of(const std::vector<Nearness>& places) {
  std::optional<std::size_t> nearest;
  for (std::size_t i = 0; i < places.size(); ++i)
    if (!nearest || is_nearer(places[i], places[*nearest])) nearest = i;
  return nearest;
}

}  // namespace standpoint
