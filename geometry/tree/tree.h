#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "geometry/edge_links.h"
#include "geometry/round_cone.h"
#include "standpoint/shapes.h"

namespace standpoint {

/// A body's nearest approach to a round cone.
struct Contact {
  Nearest nearest;
  BodyId body;
  TriangleId triangle;
};

/// The place in the tree that blocked the last query: tried first by the next one. A caller keeps
/// one for each run of similar queries; it changes how fast an answer comes, never the answer.
struct BlockerHint {
  std::uint32_t slot = UINT32_MAX;
};

/// In which order many cones are asked for. It changes how fast the answers come, never an answer.
enum class Order : std::uint8_t {
  any,
  /// Neighbours in the list share an end, so they are mostly blocked by the same triangles: what
  /// blocked the last is tried first.
  by_target,
};

/// A solid cylinder with flat ends, as an instrument on its stand takes up.
struct Cylinder {
  Vec3 centre;  ///< any point of its axis, mm
  Vec3 axis;    ///< unit
  double radius = 0;
  double above = 0;  ///< from centre along the axis to its top, mm
  double below = 0;  ///< from centre against the axis to its bottom, mm
};

/// An immutable tree over the triangles of all bodies that answers, exactly, how near they come to
/// a round cone.
///
/// Exactly means: the answer is that of `nearest_on_triangle` taken over every triangle, in double;
/// the tree only leaves out triangles that cannot change it (culled in float, widened by the error
/// bound written in tolerances.h). Built once; all queries are const and may run from any number of
/// threads. The tree keeps a pointer to the meshes: they must outlive it and stay unchanged.
class Tree {
 public:
  /// Builds over all triangles of `bodies`; BodyId(i) is bodies[i]. O(n log n), about 60 bytes a
  /// triangle beside the meshes. Precondition: finite vertices, indices in range.
  explicit Tree(std::vector<const Mesh*> bodies);
  ~Tree();
  Tree(Tree&&) noexcept;
  Tree& operator=(Tree&&) noexcept;
  Tree(const Tree&) = delete;
  Tree& operator=(const Tree&) = delete;

  /// Whether every triangle's margin to `cone` is at least `margin`. Inside the arithmetic's own
  /// error bound the answer is false. Stops at the first triangle that decides.
  [[nodiscard]] bool is_clear(const RoundCone& cone, double margin,
                              BlockerHint* hint = nullptr) const;

  /// `is_clear` for each of `cones`. One after the other costs mostly waits for memory; here many
  /// take turns, which at a million triangles is twice as fast (docs/speed.md). One thread.
  [[nodiscard]] std::vector<bool> are_clear(std::span<const RoundCone> cones, double margin,
                                            Order order = Order::any) const;

  /// The contact with the smallest margin; nothing where no triangle's margin is below `below`
  /// (with the default: only where the tree is empty). Of equal margins the one with the smaller
  /// body, then triangle.
  [[nodiscard]] std::optional<Contact> nearest(
      const RoundCone& cone, double below = std::numeric_limits<double>::infinity()) const;

  /// `nearest` for each of `cones`, taking turns as `are_clear` does. One thread.
  [[nodiscard]] std::vector<std::optional<Contact>> nearest_to_each(
      std::span<const RoundCone> cones,
      double below = std::numeric_limits<double>::infinity()) const;

  /// Calls `found` for every triangle whose margin to `cone` is below `below`, and for some more
  /// (no margin is computed), until it returns true; whether it did. In an order that is fixed but
  /// not sorted.
  bool any_near(const RoundCone& cone, double below,
                const std::function<bool(BodyId, TriangleId)>& found) const;

  /// Calls `found` for every triangle whose margin to `cone` is below `below`, in the same order.
  void for_each_within(const RoundCone& cone, double below,
                       const std::function<void(const Contact&)>& found) const;

  /// Whether any triangle has a point inside or on the cylinder, or nearer to it than rounding can
  /// tell (`tolerance::margin_error`). Precondition: above + below >= 0.
  [[nodiscard]] bool is_cut_by(const Cylinder& cylinder) const;
  /// The first body (smallest id) with a point inside or on the cylinder.
  [[nodiscard]] std::optional<BodyId> first_cut_by(const Cylinder& cylinder) const;
  /// The contact that stands deepest in the cylinder, where that is deeper than `depth`; of equally
  /// deep ones the one with the smaller body, then triangle. How deep a point stands is its
  /// distance from the cylinder's surface, sides and ends, mm; the contact's margin is that depth,
  /// negative, within `tolerance::kDepthWidth`, its `along` is measured from the bottom. In doubt,
  /// within `tolerance::margin_error`, a triangle is not deeper. Precondition: depth >= 0.
  [[nodiscard]] std::optional<Contact> deepest_in(const Cylinder& cylinder, double depth) const;

  /// The corners of one triangle, world frame, mm.
  [[nodiscard]] std::array<Vec3, 3> corners(BodyId body, TriangleId triangle) const;
  [[nodiscard]] const Mesh& mesh(BodyId body) const;
  /// Which of a body's triangles meet at an edge. Worked out when it is first asked for, O(n log n)
  /// in the body's triangles, 12 bytes each; later O(1).
  [[nodiscard]] const EdgeLinks& edge_links(BodyId body) const;
  [[nodiscard]] std::size_t triangle_count() const;
  /// Memory of the tree itself, bytes, without the meshes.
  [[nodiscard]] std::size_t bytes() const;

 private:
  struct Parts;
  std::unique_ptr<const Parts> parts_;
};

}  // namespace standpoint
