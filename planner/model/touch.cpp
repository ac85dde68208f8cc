#include "planner/model/touch.h"
#include "geometry/trigonometry.h"
#include "geometry/vec.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace standpoint {
namespace {

constexpr double kTurn = 2 * std::numbers::pi;

/// Unit vectors across an axis at equal angles, `offset` in steps.
class Ring {
 public:
  Ring(const Vec3& axis, int count, double offset)
      : x_(any_perpendicular(axis)), y_(axis.cross(x_)), count_(count), offset_(offset) {}
  [[nodiscard]] int count() const { return count_; }
  [[nodiscard]] Vec3 operator[](int i) const {
    const double angle = kTurn * (i + offset_) / count_;
    return cosine(angle) * x_ + sine(angle) * y_;
  }

 private:
  Vec3 x_, y_;
  int count_;
  double offset_;
};

Touch ball_on(const Vec3& at, const Vec3& normal, double ball_radius) {
  return {at, normal, at + ball_radius * normal};
}

class Placer {
 public:
  Placer(const Feature& feature, double ball_radius, const Rules& rules)
      : feature_(feature), ball_radius_(ball_radius), rules_(rules) {}

  std::vector<TouchSet> operator()(const PointFeature& point) const {
    return {{Way::surface, {ball_on(point.at, point.normal, ball_radius_)}}};
  }

  std::vector<TouchSet> operator()(const PlaneFeature& plane) const {
    TouchSet set{Way::surface, {}};
    for (const Vec3& at : plane.points) {
      set.touches.push_back(ball_on(at, plane.normal, ball_radius_));
    }
    return {set};
  }

  std::vector<TouchSet> operator()(const HoleFeature& hole) const {
    if (ball_radius_ > hole.radius) return rim(hole);
    return ball_radius_ < hole.radius ? walls(hole) : std::vector<TouchSet>{};
  }

  /// Rings along the cylinder, each turned by half a step against the one before.
  std::vector<TouchSet> operator()(const CylinderFeature& cylinder) const {
    if (cylinder.inside && ball_radius_ >= cylinder.radius) return {};
    const int count = feature_.touch_count.value_or(12);
    const int rings = count < 9 ? 2 : 3;
    TouchSet set{Way::surface, {}};
    for (int ring = 0; ring < rings; ++ring) {
      const int in_ring = count / rings + (ring < count % rings ? 1 : 0);
      // The outer rings stand a tenth of the length inside the ends.
      const double along = cylinder.length * 0.8 * (static_cast<double>(ring) / (rings - 1) - 0.5);
      // All rings have the step of the fullest: two touches are never opposite each other alone,
      // which would leave the axis free to shift across them.
      const Ring around(cylinder.axis, (count + rings - 1) / rings, 0.5 * ring);
      for (int i = 0; i < in_ring; ++i) {
        const Vec3 at = cylinder.centre + along * cylinder.axis + cylinder.radius * around[i];
        set.touches.push_back(
            ball_on(at, cylinder.inside ? Vec3(-around[i]) : around[i], ball_radius_));
      }
    }
    return {set};
  }

  /// One at the pole, an outer ring at 75 degrees from it, an inner one half-way when there are
  /// enough for both.
  std::vector<TouchSet> operator()(const SphereFeature& sphere) const {
    const int count = feature_.touch_count.value_or(9);
    const int inner = count - 1 >= 6 ? (count - 1) / 2 : 0;
    const int outer = count - 1 - inner;
    constexpr double kOuter = 75 * std::numbers::pi / 180;
    TouchSet set{Way::surface, {}};
    const auto put = [&](const Vec3& normal) {
      set.touches.push_back(ball_on(sphere.centre + sphere.radius * normal, normal, ball_radius_));
    };
    put(sphere.toward);
    for (const auto& [ring, polar] : {std::pair{Ring(sphere.toward, inner, 0.5), kOuter / 2},
                                      {Ring(sphere.toward, outer, 0.0), kOuter}}) {
      for (int i = 0; i < ring.count(); ++i) {
        put(cosine(polar) * sphere.toward + sine(polar) * ring[i]);
      }
    }
    return {set};
  }

 private:
  [[nodiscard]] std::vector<TouchSet> rim(const HoleFeature& hole) const {
    const double contact_rad = arc_sine(hole.radius / ball_radius_);
    if (!rules_.rim_contact_rad.contains(contact_rad)) return {};
    const double above = std::sqrt(ball_radius_ * ball_radius_ - hole.radius * hole.radius);
    return {{Way::rim, {{hole.centre, hole.axis, hole.centre + above * hole.axis}}}};
  }

  /// Half-way down or, where the ball would not come so deep, resting depth; then as far up as the
  /// ball stays whole under the rim, where a shank finds more room (a point: an eighth of the
  /// depth).
  [[nodiscard]] std::vector<TouchSet> walls(const HoleFeature& hole) const {
    const double deepest = hole.depth - ball_radius_;
    const double middle = std::min(hole.depth / 2, deepest);
    if (middle <= 0) return {};
    std::vector<TouchSet> sets{wall(hole, middle)};
    const double shallow = ball_radius_ > 0 ? ball_radius_ : hole.depth / 8;
    if (shallow < middle) sets.push_back(wall(hole, shallow));
    return sets;
  }

  [[nodiscard]] TouchSet wall(const HoleFeature& hole, double down) const {
    TouchSet set{Way::wall, {}};
    const Ring around(hole.axis, feature_.touch_count.value_or(7), 0);
    for (int i = 0; i < around.count(); ++i) {
      const Vec3 at = hole.centre - down * hole.axis + hole.radius * around[i];
      set.touches.push_back(ball_on(at, -around[i], ball_radius_));
    }
    return set;
  }

  const Feature& feature_;
  double ball_radius_;
  const Rules& rules_;
};

}  // namespace

std::vector<TouchSet> touch_sets(const Feature& feature, double ball_radius, const Rules& rules) {
  return std::visit(Placer(feature, ball_radius, rules), feature.shape);
}

std::vector<TouchSet> touch_sets(const Scene& scene, const Feature& feature, TargetId target) {
  const HoleAdapter* adapter = hole_adapter(scene, target);
  if (adapter == nullptr) return touch_sets(feature, touching_radius(scene, target), scene.rules);
  const auto* hole = std::get_if<HoleFeature>(&feature.shape);
  if (hole == nullptr || !adapter->hole_diameter.contains(2 * hole->radius)) return {};
  const Vec3 centre = hole->centre + adapter->height * hole->axis;
  return {{Way::adapter, {{hole->centre, hole->axis, centre}}}};
}

}  // namespace standpoint
