#include "planner/stations/closed_bodies.h"

#include <algorithm>
#include <array>
#include <cstdint>
#include <cstdlib>
#include <map>
#include <vector>

#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <Eigen/Geometry>

#include "geometry/shells.h"
#include "geometry/tolerances.h"
#include "geometry/tree/tree.h"

namespace standpoint {
namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using Box = Eigen::AlignedBox3d;

Kernel::Point_3 exact(const Vec3& p) {
  return {p.x(), p.y(), p.z()};
}

/// On which side of the line from a to b, seen from above, p lies: 1 left, -1 right. Where p is on
/// the line, the side of p + (e, e²) for a positive e as small as you like; 0 where a and b are one
/// point seen from above. So each line is passed on one side, and each ray crosses each closed
/// surface properly (the idea is H. Edelsbrunner and E. P. Muecke's, ACM Transactions on Graphics 9
/// (1990) 66-104).
int side_of_line(const Vec3& a, const Vec3& b, const Vec3& p) {
  const auto turn = CGAL::orientation(Kernel::Point_2(a.x(), a.y()), Kernel::Point_2(b.x(), b.y()),
                                      Kernel::Point_2(p.x(), p.y()));
  if (turn != CGAL::COLLINEAR) return turn == CGAL::LEFT_TURN ? 1 : -1;
  if (a.y() != b.y()) return b.y() < a.y() ? 1 : -1;
  if (a.x() != b.x()) return b.x() > a.x() ? 1 : -1;
  return 0;
}

/// How the ray straight up from `at` crosses a triangle: 1 from behind, -1 from the front (where
/// the corners run counter-clockwise), 0 not at all.
int crossing(const std::array<Vec3, 3>& t, const Vec3& at) {
  const int side = side_of_line(t[0], t[1], at);
  if (side == 0 || side_of_line(t[1], t[2], at) != side || side_of_line(t[2], t[0], at) != side)
    return 0;
  const int front = CGAL::orientation(exact(t[0]), exact(t[1]), exact(t[2]), exact(at));
  return front == -side ? side : 0;
}

}  // namespace

struct ClosedBodies::Body {
  Box box;
  std::optional<Shells> shells;    ///< nothing until it was asked for
  std::vector<bool> shell_counts;  ///< false: a hall seen from inside
};

struct ClosedBodies::Parts {
  Cell cell;
  std::vector<Body> bodies;

  /// How often each shell of each body goes round `at`; bodies whose shells are not known yet are
  /// left out.
  [[nodiscard]] std::map<BodyId, std::map<std::size_t, int>> turns_about(const Vec3& at) const;
  void find_shells(BodyId body);
};

std::map<BodyId, std::map<std::size_t, int>> ClosedBodies::Parts::turns_about(
    const Vec3& at) const {
  double top = at.z();
  double reach = at.cwiseAbs().maxCoeff();
  for (const Body& body : bodies) {
    if (!body.shells || !body.box.contains(at)) continue;
    top = std::max(top, body.box.max().z());
    reach = std::max(
        {reach, body.box.max().cwiseAbs().maxCoeff(), body.box.min().cwiseAbs().maxCoeff()});
  }
  std::map<BodyId, std::map<std::size_t, int>> turns;
  // Wide enough that no rounding hides a triangle that the ray meets; the rest is exact.
  const double width = 4 * tolerance::margin_error(reach);
  const RoundCone ray = RoundCone::capsule(at, {at.x(), at.y(), top}, 0);
  cell.tree().any_near(ray, width, [&](BodyId body, TriangleId triangle) {
    const std::optional<Shells>& shells = bodies[body.index].shells;
    const std::int32_t shell = shells ? shells->of_triangle[triangle.index] : 0;
    if (shell == 0) return false;
    const int crossed = crossing(cell.tree().corners(body, triangle), at);
    if (crossed != 0)
      turns[body][static_cast<std::size_t>(std::abs(shell)) - 1] += shell > 0 ? crossed : -crossed;
    return false;
  });
  return turns;
}

void ClosedBodies::Parts::find_shells(BodyId id) {
  Body& body = bodies[id.index];
  const Mesh& mesh = cell.mesh(id);
  body.shells = closed_shells(mesh);
  const Shells& shells = *body.shells;
  body.shell_counts.assign(shells.volume.size(), true);
  // A hollow is judged at the middle of its largest triangle.
  std::vector<double> largest(shells.volume.size(), -1);
  std::vector<Vec3> middle(shells.volume.size());
  for (std::size_t i = 0; i < shells.of_triangle.size(); ++i) {
    if (shells.of_triangle[i] == 0) continue;
    const auto s = static_cast<std::size_t>(std::abs(shells.of_triangle[i])) - 1;
    const auto t = mesh.corners(i);
    const double area = (t[1] - t[0]).cross(t[2] - t[0]).norm();
    if (area <= largest[s]) continue;
    largest[s] = area;
    middle[s] = (t[0] + t[1] + t[2]) / 3;
  }
  for (std::size_t s = 0; s < shells.volume.size(); ++s) {
    if (shells.volume[s] >= 0) continue;
    int solid = 0;
    const auto turns = turns_about(middle[s]);
    if (const auto here = turns.find(id); here != turns.end()) {
      for (const auto& [shell, of_shell] : here->second) {
        if (shell != s && shells.volume[shell] > 0) solid += of_shell;
      }
    }
    body.shell_counts[s] = solid > 0;
  }
}

ClosedBodies::ClosedBodies(const Cell& cell) : parts_(new Parts{cell, {}}) {
  for (const auto& mesh : cell.meshes()) {
    Body body;
    for (const Vec3& vertex : mesh->vertices) body.box.extend(vertex);
    parts_->bodies.push_back(std::move(body));
  }
}

ClosedBodies::~ClosedBodies() = default;

std::optional<BodyId> ClosedBodies::first_around(const Vec3& at) {
  bool any = false;
  for (std::size_t b = 0; b < parts_->bodies.size(); ++b) {
    Body& body = parts_->bodies[b];
    if (!body.box.contains(at)) continue;
    if (!body.shells) parts_->find_shells(BodyId(b));
    any |= !body.shells->volume.empty();
  }
  if (!any) return std::nullopt;
  for (const auto& [id, shells] : parts_->turns_about(at)) {
    int turns = 0;
    for (const auto& [shell, of_shell] : shells) {
      if (parts_->bodies[id.index].shell_counts[shell]) turns += of_shell;
    }
    if (turns > 0) return id;
  }
  return std::nullopt;
}

}  // namespace standpoint
