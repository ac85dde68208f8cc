#pragma once

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

  [[nodiscard]] const Scene& scene() const { return *scene_; }
  [[nodiscard]] const Tree& tree() const { return tree_; }

 private:
  const Scene* scene_;
  Tree tree_;
};

}  // namespace standpoint
