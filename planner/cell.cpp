#include "planner/cell.h"

namespace standpoint {
namespace {

std::vector<const Mesh*> meshes_of(const Scene& scene) {
  std::vector<const Mesh*> meshes;
  meshes.reserve(scene.bodies.size());
  for (const Body& body : scene.bodies) meshes.push_back(&body.mesh);
  return meshes;
}

}  // namespace

Cell::Cell(const Scene& scene)
    : scene_(&scene), tree_(std::make_shared<const Tree>(meshes_of(scene))) {}

}  // namespace standpoint
