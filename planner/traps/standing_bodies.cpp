#include "planner/traps/standing_bodies.h"

#include <algorithm>
#include <set>

#include <Eigen/Geometry>

#include "geometry/tree/tree.h"

namespace standpoint {
namespace {

using Box = Eigen::AlignedBox3d;

Box box_of(const Mesh& mesh) {
  Box box;
  for (const Vec3& v : mesh.vertices) box.extend(v);
  return box;
}

/// What of `boxes` the edge could touch, but for body `own`.
bool is_near_others(const Box& edge, const std::vector<Box>& boxes, std::size_t own, double gap) {
  for (std::size_t b = 0; b < boxes.size(); ++b) {
    if (b != own && edge.squaredExteriorDistance(boxes[b]) <= gap * gap) return true;
  }
  return false;
}

}  // namespace

std::vector<std::vector<BodyId>> touching_bodies(const Cell& cell, double gap) {
  const std::size_t count = cell.meshes().size();
  std::vector<Box> boxes;
  for (const auto& mesh : cell.meshes()) boxes.push_back(box_of(*mesh));
  std::vector<std::set<BodyId>> touching(count);
  for (std::size_t b = 0; b < count; ++b) {
    if (!is_near_others(boxes[b], boxes, b, gap)) continue;
    const Mesh& mesh = cell.mesh(BodyId(b));
    for (const auto& triangle : mesh.triangles) {
      for (std::size_t k = 0; k < 3; ++k) {
        const Vec3 &from = mesh.vertices[triangle[k]], &to = mesh.vertices[triangle[(k + 1) % 3]];
        Box edge(from);
        edge.extend(to);
        if (!is_near_others(edge, boxes, b, gap)) continue;
        cell.tree().for_each_within(RoundCone::capsule(from, to, 0), gap,
                                    [&](const Contact& contact) {
                                      if (contact.body == BodyId(b)) return;
                                      touching[b].insert(contact.body);
                                      touching[contact.body.index].insert(BodyId(b));
                                    });
      }
    }
  }
  std::vector<std::vector<BodyId>> lists;
  lists.reserve(touching.size());
  for (const auto& set : touching) lists.emplace_back(set.begin(), set.end());
  return lists;
}

std::vector<BodyId> group_of(const std::vector<std::vector<BodyId>>& touching, BodyId first) {
  std::vector<BodyId> group{first};
  for (std::size_t i = 0; i < group.size(); ++i) {
    for (const BodyId next : touching[group[i].index]) {
      if (std::find(group.begin(), group.end(), next) == group.end()) group.push_back(next);
    }
  }
  std::sort(group.begin(), group.end());
  return group;
}

}  // namespace standpoint
