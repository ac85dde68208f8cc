#pragma once

#include <cstdint>
#include <optional>

#include "geometry/round_cone.h"
#include "geometry/tree_layout.h"

namespace standpoint::tree {

// The walks through the tree. SIMD chosen at run time; answers do not depend on the choice.

/// Whether some triangle's margin, computed in double, is below `margin` + `error`; `error` is what
/// that computation may be off by, mm. `block` is one to look into first, or kNoChild, and on
/// return the one that the blocker was found in.
[[nodiscard]] bool is_blocked(const Layout& layout, const RoundCone& cone, double margin,
                              double error, std::uint32_t& block);

/// A triangle and its margin.
struct Found {
  Nearest nearest;
  std::uint32_t triangle = 0;
};

/// The triangle with the least margin below `below`; of equal ones the first.
[[nodiscard]] std::optional<Found> find_nearest(const Layout& layout, const RoundCone& cone,
                                                double below);

/// Looks at what the culling could not leave out.
class Visitor {
 public:
  virtual ~Visitor() = default;
  virtual void visit(std::uint32_t triangle) = 0;
};

/// Takes `visitor` to every triangle whose margin to the cone may be below `below`, and to some
/// more.
void visit_within(const Layout& layout, const RoundCone& cone, double below, Visitor& visitor);

}  // namespace standpoint::tree
