#pragma once

#include <memory>
#include <optional>

#include "geometry/tree.h"
#include "planner/scene.h"

namespace standpoint {

/// A validated scene together with the tree over its bodies: everything the planner asks.
///
/// Immutable; safe to query from many threads. Keeps a reference to the scene, which must outlive
/// it and stay unchanged.
class Cell {
 public:
  explicit Cell(const Scene& scene);

  /// A variant of the scene among the same bodies (other nests, features, rules), without building
  /// the tree again. Precondition: `scene.bodies` names the same bodies in the same order; their
  /// meshes are not looked at. The meshes of the other cell's scene must outlive this one.
  Cell(const Scene& scene, const Cell& same_bodies) : scene_(&scene), tree_(same_bodies.tree_) {}

  [[nodiscard]] const Scene& scene() const { return *scene_; }
  [[nodiscard]] const Tree& tree() const { return *tree_; }

 private:
  const Scene* scene_;
  std::shared_ptr<const Tree> tree_;
};

/// The first body, in the scene's order, that the upright cylinder of the instrument and its stand
/// cuts or touches where the measuring centre is `at` (world, mm). A cylinder without size is that
/// point: a mesh through it is in the way. O(the tree's height + triangles near the cylinder); safe
/// from many threads.
[[nodiscard]] std::optional<BodyId> body_in_the_way(const Cell& cell, const Vec3& at);

}  // namespace standpoint
