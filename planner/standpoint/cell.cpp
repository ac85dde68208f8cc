#include "standpoint/cell.h"

#include <cassert>
#include <utility>
#include <vector>

#include "geometry/direction_memory.h"
#include "geometry/tree/tree.h"

namespace standpoint {
namespace {

std::vector<const Mesh*> pointers_to(const Meshes& meshes) {
  std::vector<const Mesh*> pointers;
  pointers.reserve(meshes.size());
  for (const auto& mesh : meshes) pointers.push_back(mesh.get());
  return pointers;
}

}  // namespace

/// The meshes, the tree that points at them, and what was found out about them.
struct Cell::Bodies {
  explicit Bodies(Meshes given) : meshes(std::move(given)), tree(pointers_to(meshes)) {}

  Meshes meshes;
  Tree tree;
  mutable DirectionMemory directions;  // locks itself
};

Cell::Cell(Scene scene, Meshes meshes)
    : Cell(std::make_shared<const Scene>(std::move(scene)),
           std::make_shared<const Bodies>(std::move(meshes))) {}

Cell::Cell(std::shared_ptr<const Scene> scene, std::shared_ptr<const Bodies> bodies)
    : scene_(std::move(scene)), bodies_(std::move(bodies)) {
  assert(scene_->bodies.size() == bodies_->meshes.size());
}

Cell Cell::with(Scene scene) const {
  return {std::make_shared<const Scene>(std::move(scene)), bodies_};
}

const Meshes& Cell::meshes() const {
  return bodies_->meshes;
}

const Tree& Cell::tree() const {
  return bodies_->tree;
}

DirectionMemory& Cell::direction_memory() const {
  return bodies_->directions;
}

}  // namespace standpoint
