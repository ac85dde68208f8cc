#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "geometry/round_cone.h"
#include "geometry/tree/layout.h"

namespace standpoint::tree {

// The walks through the tree. SIMD chosen at run time; answers do not depend on the choice.

/// Asks whether some triangle's margin, computed in double, is below `margin` + `error`.
struct BeamQuery {
  const RoundCone* cone = nullptr;
  double margin = 0;
  double error = 0;  ///< what the computation in double may be off by, mm
};

/// `block` is one to look into first, or kNoChild, and on return the one that the blocker was found
/// in.
[[nodiscard]] bool is_blocked(const Layout& layout, const BeamQuery& query, std::uint32_t& block);

/// The same for many, in turns. `last_first`: each looks first where the last blocker was found.
[[nodiscard]] std::vector<bool> are_blocked(const Layout& layout,
                                            std::span<const BeamQuery> queries, bool last_first);

/// A triangle and its margin.
struct Found {
  Nearest nearest;
  std::uint32_t triangle = 0;
};

/// Asks for the triangle with the least margin below `below`; of equal ones the first.
struct NearestQuery {
  const RoundCone* cone = nullptr;
  double below = 0;
};

[[nodiscard]] std::optional<Found> find_nearest(const Layout& layout, const NearestQuery& query);

/// The same for many, in turns.
[[nodiscard]] std::vector<std::optional<Found>> find_each_nearest(
    const Layout& layout, std::span<const NearestQuery> queries);

/// Looks at what the culling could not leave out.
class Visitor {
 public:
  virtual ~Visitor() = default;
  /// True to see no more.
  virtual bool visit(std::uint32_t triangle) = 0;
};

/// Takes `visitor` to every triangle whose margin to the cone may be below `below`, and to some
/// more, until one visit returns true; whether one did.
bool any_within(const Layout& layout, const RoundCone& cone, double below, Visitor& visitor);

}  // namespace standpoint::tree
