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

std::optional<BodyId> body_in_the_way(const Cell& cell, const Vec3& at) {
  const Instrument& instrument = cell.scene().instrument;
  return cell.tree().first_cut_by(
      {at, instrument.body_radius, instrument.body_above, instrument.body_below});
}

}  // namespace standpoint
