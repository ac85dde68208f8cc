#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <numeric>
#include <vector>

namespace standpoint {

/// Lists of T, one for each vertex, packed behind one another (a counting sort by vertex).
template <class T>
struct ByVertex {
  std::vector<std::size_t> end_of;  ///< end_of[v] is where v's list ends and that of v + 1 begins
  std::vector<T> items;
};

/// Packs the lists. `each(put)` must call put(vertex, item) for every item, and do so alike both
/// times it is run. Precondition: vertex < vertices. O(items + vertices).
template <class T, class Each>
[[nodiscard]] ByVertex<T> by_vertex(std::size_t vertices, const Each& each) {
  ByVertex<T> lists;
  lists.end_of.assign(vertices + 1, 0);
  each([&](std::uint32_t vertex, const T&) { ++lists.end_of[vertex + 1]; });
  std::partial_sum(lists.end_of.begin(), lists.end_of.end(), lists.end_of.begin());
  lists.items.resize(lists.end_of.back());
  // Filling moves each start to its list's end.
  each([&](std::uint32_t vertex, const T& item) { lists.items[lists.end_of[vertex]++] = item; });
  return lists;
}

/// Sorts each list (by <) and calls `found(from, to)` for each of its runs of items that are the
/// `same`; these must be neighbours in that order. O(n log of the longest list).
template <class T, class Same, class Found>
void for_each_run(ByVertex<T>& lists, const Same& same, const Found& found) {
  auto from = lists.items.begin();
  for (std::size_t v = 0; v + 1 < lists.end_of.size(); ++v) {
    const auto to = lists.items.begin() + static_cast<std::ptrdiff_t>(lists.end_of[v]);
    std::sort(from, to);
    while (from != to) {
      const auto next = std::find_if(from, to, [&](const T& item) { return !same(item, *from); });
      found(from, next);
      from = next;
    }
  }
}

}  // namespace standpoint
