#pragma once

#include <numeric>
#include <optional>
#include <span>
#include <vector>

#include "standpoint/sight.h"

namespace standpoint {

/// For each station the first of `count` takers that takes it; nothing where none does.
/// `takes_from(i, stations)` says which of the stations taker i takes; it is asked only of those
/// that none before it took.
template <class TakesFrom>
[[nodiscard]] std::vector<std::optional<std::size_t>> first_takers(std::span<const Stance> stations,
                                                                   std::size_t count,
                                                                   TakesFrom&& takes_from) {
  std::vector<std::optional<std::size_t>> first(stations.size());
  std::vector<std::size_t> open(stations.size());
  std::iota(open.begin(), open.end(), std::size_t{0});
  std::vector<Stance> asked(stations.begin(), stations.end());
  for (std::size_t taker = 0; taker < count && !open.empty(); ++taker) {
    const std::vector<bool> takes = takes_from(taker, std::span<const Stance>(asked));
    std::size_t left = 0;
    for (std::size_t k = 0; k < open.size(); ++k) {
      if (takes[k]) {
        first[open[k]] = taker;
        continue;
      }
      open[left] = open[k];
      asked[left++] = asked[k];
    }
    open.resize(left);
    asked.resize(left);
  }
  return first;
}

}  // namespace standpoint
