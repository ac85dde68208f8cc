#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>

#include "geometry/tolerances.h"
#include "geometry/tree/tree.h"
#include "geometry/vec.h"

namespace standpoint {
namespace {

/// Up to five corners: what a slab between two heights leaves of a triangle.
struct Polygon {
  std::array<Vec3, 5> corner;
  int size = 0;
};

/// The part of `polygon` on the side of the plane z = height where sign * (z - height) >= 0.
Polygon clip(const Polygon& polygon, double height, double sign) {
  Polygon kept;
  for (int i = 0; i < polygon.size; ++i) {
    const Vec3& a = polygon.corner[i];
    const Vec3& b = polygon.corner[(i + 1) % polygon.size];
    const double da = sign * (a.z() - height);
    const double db = sign * (b.z() - height);
    if (da >= 0) kept.corner[kept.size++] = a;
    if ((da < 0) != (db < 0)) kept.corner[kept.size++] = a + (b - a) * (da / (da - db));
  }
  return kept;
}

/// Where a convex polygon comes nearest to the z axis, seen along it, and how near; 0 where the
/// axis passes through it.
struct NearestToAxis {
  double distance = std::numeric_limits<double>::infinity();
  Vec3 at = Vec3::Zero();
};

NearestToAxis nearest_to_axis(const Polygon& polygon) {
  NearestToAxis nearest;
  bool any_left = false, any_right = false;
  Vec3 normal = Vec3::Zero();
  for (int i = 0; i < polygon.size; ++i) {
    const Vec3& a = polygon.corner[i];
    const Vec3& b = polygon.corner[(i + 1) % polygon.size];
    const Vec3 e = b - a;
    const Vec2 p = a.head<2>(), q = e.head<2>();
    const double e2 = q.squaredNorm();
    const double s = e2 > 0 ? std::clamp(-p.dot(q) / e2, 0.0, 1.0) : 0.0;
    const double distance = (p + s * q).norm();
    if (distance < nearest.distance) nearest = {distance, a + s * e};
    const double turn = q.y() * p.x() - q.x() * p.y();
    any_left |= turn > 0;
    any_right |= turn < 0;
    normal += a.cross(b);
  }
  const bool is_inside = polygon.size >= 3 && any_left != any_right;
  if (!is_inside) return nearest;
  // Where the axis meets its plane, but for rounding.
  const Vec3& a = polygon.corner[0];
  const double z = normal.z() != 0 ? normal.dot(a) / normal.z() : a.z();
  return {0, Vec3(0, 0, z)};
}

/// A cylinder with its centre at the origin and its axis along z.
class OwnFrame {
 public:
  explicit OwnFrame(const Cylinder& cylinder) : cylinder_(cylinder) {
    // Along the scene's vertical nothing is turned, so that nothing is rounded.
    if (cylinder.axis == Vec3::UnitZ()) return;
    turn_.row(0) = any_perpendicular(cylinder.axis);
    turn_.row(1) = cylinder.axis.cross(Vec3(turn_.row(0)));
    turn_.row(2) = cylinder.axis;
  }

  [[nodiscard]] Polygon of(const std::array<Vec3, 3>& corners) const {
    Polygon polygon;
    for (const Vec3& corner : corners)
      polygon.corner[polygon.size++] = turn_ * (corner - cylinder_.centre);
    return polygon;
  }

  /// `own`: in this frame.
  [[nodiscard]] Vec3 in_world(const Vec3& own) const {
    return cylinder_.centre + turn_.transpose() * own;
  }

  [[nodiscard]] Vec3 top() const { return cylinder_.centre + cylinder_.above * cylinder_.axis; }
  [[nodiscard]] Vec3 bottom() const { return cylinder_.centre - cylinder_.below * cylinder_.axis; }

  /// What rounding may do to a place of the triangle against the cylinder, mm.
  [[nodiscard]] double error(const std::array<Vec3, 3>& corners) const {
    double reach = std::max(top().cwiseAbs().maxCoeff(), bottom().cwiseAbs().maxCoeff());
    for (const Vec3& corner : corners) reach = std::max(reach, corner.cwiseAbs().maxCoeff());
    return tolerance::margin_error(reach);
  }

  /// The triangle's point nearest to the axis among those in the cylinder swollen by `more` all
  /// round; nothing where there is none.
  [[nodiscard]] std::optional<Vec3> point_within(const Polygon& triangle, double more) const {
    const double low = -cylinder_.below - more, high = cylinder_.above + more;
    if (low > high || cylinder_.radius + more < 0) return std::nullopt;
    const Polygon slab = clip(clip(triangle, low, 1), high, -1);
    if (slab.size == 0) return std::nullopt;
    const NearestToAxis nearest = nearest_to_axis(slab);
    return nearest.distance <= cylinder_.radius + more ? std::optional(nearest.at) : std::nullopt;
  }

  /// Calls `found` for all triangles that may have a point in the cylinder. The capsule of the same
  /// radius holds it.
  template <class Found>
  void for_each_candidate(const Tree& tree, Found found) const {
    tree.for_each_within(RoundCone::capsule(bottom(), top(), cylinder_.radius), 1e-3, found);
  }

 private:
  const Cylinder& cylinder_;
  Mat3 turn_ = Mat3::Identity();
};

}  // namespace

bool Tree::is_cut_by(const Cylinder& cylinder) const {
  return first_cut_by(cylinder).has_value();
}

std::optional<BodyId> Tree::first_cut_by(const Cylinder& cylinder) const {
  const OwnFrame frame(cylinder);
  std::optional<BodyId> first;
  frame.for_each_candidate(*this, [&](const Contact& contact) {
    if (first && *first <= contact.body) return;
    const auto corners = this->corners(contact.body, contact.triangle);
    // A cylinder without size is missed by a rounding, otherwise.
    if (frame.point_within(frame.of(corners), frame.error(corners))) first = contact.body;
  });
  return first;
}

std::optional<Contact> Tree::deepest_in(const Cylinder& cylinder, double depth) const {
  const OwnFrame frame(cylinder);
  const double deepest_possible = std::min(cylinder.radius, (cylinder.above + cylinder.below) / 2);
  std::optional<Contact> deepest;
  frame.for_each_candidate(*this, [&](const Contact& contact) {
    const auto corners = this->corners(contact.body, contact.triangle);
    const Polygon triangle = frame.of(corners);
    // How deep a place stands is concave over a triangle, so what is in the cylinder shrunk by a
    // depth shrinks to one place as the depth grows.
    double reached = depth + frame.error(corners), missed = deepest_possible;
    auto at = frame.point_within(triangle, -reached);
    if (!at) return;
    while (missed - reached > tolerance::kDepthWidth) {
      const double middle = (reached + missed) / 2;
      const auto deeper = frame.point_within(triangle, -middle);
      (deeper ? reached : missed) = middle;
      if (deeper) at = deeper;
    }
    const bool is_first =
        !deepest || -reached < deepest->nearest.margin ||
        (-reached == deepest->nearest.margin &&
         std::pair(contact.body, contact.triangle) < std::pair(deepest->body, deepest->triangle));
    if (!is_first) return;
    deepest = Contact{
        {-reached, at->z() + cylinder.below, frame.in_world(*at)}, contact.body, contact.triangle};
  });
  return deepest;
}

}  // namespace standpoint
