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

}  // namespace standpoint
