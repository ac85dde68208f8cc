#pragma once

#include <cstdint>
#include <vector>

#include "planner/cover/bits.h"

namespace standpoint {

/// Which members of a list are linked with which, kept by groups of members that are linked alike.
///
/// Ten thousand candidates can have 5e7 links; candidates that take the same nests share them all,
/// so the links are kept once a group: one bit for each pair of groups.
struct LinkGroups {
  std::vector<std::uint32_t> group_of;  ///< for each member its group, < linked.rows()
  /// Groups x groups, symmetric. The diagonal says whether two members of one group are linked; a
  /// member is never linked with itself.
  BitMatrix linked;

  [[nodiscard]] bool are_linked(std::uint32_t a, std::uint32_t b) const {
    return a != b && has_bit(linked[group_of[a]], group_of[b]);
  }
};

/// The same links with the members in another order: member i of the result is `order[i]`. Groups
/// are numbered by their first members. Precondition: `order` has every member once. O(members +
/// groups^2).
[[nodiscard]] inline LinkGroups permuted(const LinkGroups& links,
                                         const std::vector<std::uint32_t>& order) {
  LinkGroups result;
  std::vector<std::uint32_t> old_of, new_of(links.linked.rows(), 0);
  std::vector<bool> is_numbered(links.linked.rows(), false);
  for (const std::uint32_t member : order) {
    const std::uint32_t old = links.group_of[member];
    if (!is_numbered[old]) {
      is_numbered[old] = true;
      new_of[old] = static_cast<std::uint32_t>(old_of.size());
      old_of.push_back(old);
    }
    result.group_of.push_back(new_of[old]);
  }
  result.linked = BitMatrix(old_of.size(), old_of.size());
  for (std::size_t a = 0; a < old_of.size(); ++a)
    for (std::size_t b = 0; b < old_of.size(); ++b)
      if (has_bit(links.linked[old_of[a]], old_of[b])) set_bit(result.linked[a], b);
  return result;
}

}  // namespace standpoint
