#include "planner/why/changed_scene.h"

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
};

void shift_mesh(Mesh& mesh, const Vec3& by) {
  for (Vec3& vertex : mesh.vertices) vertex += by;
}

}  // namespace

Scene without_body(const Scene& scene, BodyId body) {
  Scene changed = scene;
  changed.bodies[body.index].mesh = {};
  return changed;
}

Scene with_body_moved(const Scene& scene, BodyId body, const Vec3& shift) {
  Scene changed = scene;
  shift_mesh(changed.bodies[body.index].mesh, shift);
  return changed;
}

Scene with_part_moved(const Scene& scene, const Vec3& shift) {
  Scene changed = scene;
  for (Body& body : changed.bodies) {
    if (body.role == BodyRole::part) shift_mesh(body.mesh, shift);
  }
  for (Feature& feature : changed.features) std::visit(Shift{shift}, feature.shape);
  return changed;
}

Scene cut_to_box(const Scene& scene, const Vec3& low, const Vec3& high) {
  Scene changed = scene;
  for (Body& body : changed.bodies) {
    const Mesh whole = std::move(body.mesh);
    Mesh& kept = body.mesh = {};
    kept.vertices = whole.vertices;
    kept.face_names = whole.face_names;
    for (std::size_t i = 0; i < whole.triangles.size(); ++i) {
      const auto [a, b, c] = whole.corners(i);
      const bool meets = (a.cwiseMin(b).cwiseMin(c).array() <= high.array()).all() &&
                         (a.cwiseMax(b).cwiseMax(c).array() >= low.array()).all();
      if (!meets) continue;
      kept.triangles.push_back(whole.triangles[i]);
      if (!whole.face_of_triangle.empty()) {
        kept.face_of_triangle.push_back(whole.face_of_triangle[i]);
      }
    }
  }
  return changed;
}

Scene with_all_targets(const Scene& scene, FeatureId feature) {
  Scene changed = scene;
  changed.features[feature.index].targets.clear();
  return changed;
}

}  // namespace standpoint
