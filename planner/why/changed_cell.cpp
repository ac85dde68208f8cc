#include "planner/why/changed_cell.h"

#include <utility>

namespace standpoint {
namespace {

struct Shift {
  Vec3 by;
  void operator()(PointFeature& f) const { f.at += by; }
  void operator()(PlaneFeature& f) const {
    for (Vec3& point : f.points) point += by;
  }
  void operator()(HoleFeature& f) const { f.centre += by; }
  void operator()(CylinderFeature& f) const { f.centre += by; }
  void operator()(SphereFeature& f) const { f.centre += by; }
  void operator()(LineFeature& f) const {
    f.from += by;
    f.to += by;
  }
  void operator()(ConeFeature& f) const { f.centre += by; }
  void operator()(SlotFeature& f) const { f.centre += by; }
  void operator()(SurfaceFeature& f) const {
    for (PointFeature& touch : f.touches) touch.at += by;
  }
};

std::shared_ptr<const Mesh> shifted(const Mesh& mesh, const Vec3& by) {
  Mesh moved = mesh;
  for (Vec3& vertex : moved.vertices) vertex += by;
  return std::make_shared<const Mesh>(std::move(moved));
}

std::shared_ptr<const Mesh> nothing() {
  return std::make_shared<const Mesh>();
}

/// The triangles of a mesh whose boxes meet [low, high], with the vertices that they have.
std::shared_ptr<const Mesh> cut(const Mesh& whole, const Vec3& low, const Vec3& high) {
  Mesh kept;
  kept.vertices = whole.vertices;
  kept.face_names = whole.face_names;
  for (std::size_t i = 0; i < whole.triangles.size(); ++i) {
    const auto [a, b, c] = whole.corners(i);
    const bool meets = (a.cwiseMin(b).cwiseMin(c).array() <= high.array()).all() &&
                       (a.cwiseMax(b).cwiseMax(c).array() >= low.array()).all();
    if (!meets) continue;
    kept.triangles.push_back(whole.triangles[i]);
    if (!whole.face_of_triangle.empty()) kept.face_of_triangle.push_back(whole.face_of_triangle[i]);
  }
  return std::make_shared<const Mesh>(std::move(kept));
}

}  // namespace

Cell without_body(const Cell& cell, BodyId body) {
  Meshes meshes = cell.meshes();
  meshes[body.index] = nothing();
  return {cell.scene(), std::move(meshes)};
}

Cell without_part(const Cell& cell) {
  Meshes meshes = cell.meshes();
  for (std::size_t b = 0; b < meshes.size(); ++b) {
    if (cell.scene().bodies[b].role == BodyRole::part) meshes[b] = nothing();
  }
  return {cell.scene(), std::move(meshes)};
}

Cell with_body_moved(const Cell& cell, BodyId body, const Vec3& shift) {
  Meshes meshes = cell.meshes();
  meshes[body.index] = shifted(cell.mesh(body), shift);
  return {cell.scene(), std::move(meshes)};
}

Cell with_part_moved(const Cell& cell, const Vec3& shift) {
  Scene scene = cell.scene();
  Meshes meshes = cell.meshes();
  for (std::size_t b = 0; b < meshes.size(); ++b) {
    if (scene.bodies[b].role == BodyRole::part) meshes[b] = shifted(*meshes[b], shift);
  }
  for (Feature& feature : scene.features) std::visit(Shift{shift}, feature.shape);
  return {std::move(scene), std::move(meshes)};
}

Cell cut_to_box(const Cell& cell, const Vec3& low, const Vec3& high) {
  Meshes meshes;
  for (const auto& whole : cell.meshes()) meshes.push_back(cut(*whole, low, high));
  return {cell.scene(), std::move(meshes)};
}

Cell with_all_targets(const Cell& cell, FeatureId feature) {
  Scene scene = cell.scene();
  scene.features[feature.index].targets.clear();
  return cell.with(std::move(scene));
}

}  // namespace standpoint
