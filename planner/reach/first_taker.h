#pragma once

#include <numeric>
#include <span>
#include <vector>

#include "standpoint/sight.h"

namespace standpoint {

/// For each station the verdict of the first of `count` takers that takes it; blocked where none
/// does. `takes_from(i, stations)` says which of the stations taker i takes; it is asked only of
/// those that none before it took. `verdict_of(i)` is the verdict by taker i.
template <class TakesFrom, class VerdictOf>
[[nodiscard]] std::vector<Verdict> verdicts_by_first(std::span<const Stance> stations,
                                                     std::size_t count, TakesFrom&& takes_from,
                                                     VerdictOf&& verdict_of) {
  std::vector<Verdict> verdicts(stations.size(), Verdict::blocked);
  std::vector<std::size_t> open(stations.size());
  std::iota(open.begin(), open.end(), std::size_t{0});
  std::vector<Stance> asked(stations.begin(), stations.end());
  for (std::size_t taker = 0; taker < count && !open.empty(); ++taker) {
    const std::vector<bool> takes = takes_from(taker, std::span<const Stance>(asked));
    std::size_t left = 0;
    for (std::size_t k = 0; k < open.size(); ++k) {
      if (takes[k]) {
        verdicts[open[k]] = verdict_of(taker);
        continue;
      }
      open[left] = open[k];
      asked[left++] = asked[k];
    }
    open.resize(left);
    asked.resize(left);
  }
  return verdicts;
}

}  // namespace standpoint
