#pragma once

#include <memory>

#include "standpoint/scene.h"
#include "standpoint/shapes.h"

/// \file
/// A scene among its bodies, ready to be asked.

namespace standpoint {

class DirectionMemory;
class Tree;

/// A validated scene among its bodies: everything the planner asks. It owns the scene, shares the
/// meshes, and holds the tree over them that answers how near a beam comes to any body.
///
/// Immutable; cheap to copy; safe to query from many threads. What queries find out about the
/// bodies, other queries use again: up to 256 MiB, which live as long as the bodies. References
/// that it gives live as long as any copy of it.
class Cell {
 public:
  /// Builds the tree: O(n log n) in triangles, about 60 bytes each beside the meshes.
  /// Preconditions: a mesh for each of `scene.bodies`, in their order, none of them null; finite
  /// vertices, indices in range. Throws std::bad_alloc.
  Cell(Scene scene, Meshes meshes);

  /// Another scene among the same bodies (other nests, features, targets, rules): shares meshes and
  /// tree. Precondition: `scene.bodies` are this scene's, in the same order. O(1) beside the scene.
  [[nodiscard]] Cell with(Scene scene) const;

  /// The scene it was built from. O(1).
  [[nodiscard]] const Scene& scene() const { return *scene_; }
  /// The surfaces of all bodies, in the scene's order. O(1).
  [[nodiscard]] const Meshes& meshes() const;
  /// The surface of one body. O(1). Precondition: a body of the scene.
  [[nodiscard]] const Mesh& mesh(BodyId body) const { return *meshes()[body.index]; }
  /// For the planner itself: the tree is not part of the public face.
  [[nodiscard]] const Tree& tree() const;
  /// For the planner itself: how styli can be held among these bodies, as far as it was found out.
  /// Any thread may add to it, and no answer depends on it.
  [[nodiscard]] DirectionMemory& direction_memory() const;

 private:
  struct Bodies;
  Cell(std::shared_ptr<const Scene> scene, std::shared_ptr<const Bodies> bodies);

  std::shared_ptr<const Scene> scene_;
  std::shared_ptr<const Bodies> bodies_;
};

}  // namespace standpoint
