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

/// The places of `count` touches along a stretch of `length` about its middle, the outer ones a
/// tenth inside its ends; one alone in the middle.
double along_stretch(double length, int i, int count) {
  return count < 2 ? 0 : length * 0.8 * (static_cast<double>(i) / (count - 1) - 0.5);
}

/// Where a ball touches a round wall about an axis: at `along` of its middle, the ring's
/// directions.
struct RingedWall {
  Vec3 centre, axis;
  double radius = 0, length = 0;  ///< the radius half-way along
  double narrowing = 0;           ///< of the radius, mm a mm along the axis
  bool inside = false;
};

/// Rings along the wall, each turned by half a step against the one before.
TouchSet rings_on(const RingedWall& wall, int count, double ball_radius) {
  const int rings = count < 9 ? 2 : 3;
  const double slope = std::sqrt(1 + wall.narrowing * wall.narrowing);
  TouchSet set{Way::surface, {}};
  for (int ring = 0; ring < rings; ++ring) {
    const int in_ring = count / rings + (ring < count % rings ? 1 : 0);
    const double along = along_stretch(wall.length, ring, rings);
    // All rings have the step of the fullest: two touches are never opposite each other alone,
    // which would leave the axis free to shift across them.
    const Ring around(wall.axis, (count + rings - 1) / rings, 0.5 * ring);
    for (int i = 0; i < in_ring; ++i) {
      const Vec3 out = around[i];
      const Vec3 at =
          wall.centre + along * wall.axis + (wall.radius - wall.narrowing * along) * out;
      const Vec3 normal =
          wall.narrowing == 0 ? out : Vec3((out + wall.narrowing * wall.axis) / slope);
      set.touches.push_back(ball_on(at, wall.inside ? Vec3(-normal) : normal, ball_radius));
    }
  }
  return set;
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

  std::vector<TouchSet> operator()(const CylinderFeature& cylinder) const {
    if (cylinder.inside && ball_radius_ >= cylinder.radius) return {};
    const RingedWall wall{cylinder.centre, cylinder.axis, cylinder.radius, cylinder.length, 0,
                          cylinder.inside};
    return {rings_on(wall, feature_.touch_count.value_or(12), ball_radius_)};
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

  std::vector<TouchSet> operator()(const LineFeature& line) const {
    const int count = feature_.touch_count.value_or(5);
    const Vec3 middle = (line.from + line.to) / 2, whole = line.to - line.from;
    TouchSet set{Way::surface, {}};
    for (int i = 0; i < count; ++i)
      set.touches.push_back(
          ball_on(middle + along_stretch(1, i, count) * whole, line.normal, ball_radius_));
    return {set};
  }

  /// As a cylinder. Inside, the ball comes down to the narrowest ring only where it is not stopped
  /// by the far side: its centre, seen from the contact, must lie before the axis.
  std::vector<TouchSet> operator()(const ConeFeature& cone) const {
    const double cos = cosine(cone.half_angle_rad);
    const double narrowing = sine(cone.half_angle_rad) / cos;
    const double narrowest = cone.radius - narrowing * 0.4 * cone.length;
    if (cone.inside && ball_radius_ * cos >= narrowest) return {};
    const RingedWall wall{cone.centre, cone.axis, cone.radius, cone.length, narrowing, cone.inside};
    return {rings_on(wall, feature_.touch_count.value_or(12), ball_radius_)};
  }

  /// A ball larger than the slot would rest on both long edges and say nothing along them.
  std::vector<TouchSet> operator()(const SlotFeature& slot) const {
    std::vector<TouchSet> sets;
    if (2 * ball_radius_ >= slot.width) return sets;
    for (const double down : depths_on_wall(slot.depth)) sets.push_back(wall(slot, down));
    return sets;
  }

  std::vector<TouchSet> operator()(const SurfaceFeature& surface) const {
    TouchSet set{Way::surface, {}};
    for (const PointFeature& place : surface.touches)
      set.touches.push_back(ball_on(place.at, place.normal, ball_radius_));
    return {set};
  }

 private:
  [[nodiscard]] std::vector<TouchSet> rim(const HoleFeature& hole) const {
    const double contact_rad = arc_sine(hole.radius / ball_radius_);
    if (!rules_.rim_contact_rad.contains(contact_rad)) return {};
    const double above = std::sqrt(ball_radius_ * ball_radius_ - hole.radius * hole.radius);
    return {{Way::rim, {{hole.centre, hole.axis, hole.centre + above * hole.axis}}}};
  }

  [[nodiscard]] std::vector<TouchSet> walls(const HoleFeature& hole) const {
    std::vector<TouchSet> sets;
    for (const double down : depths_on_wall(hole.depth)) sets.push_back(wall(hole, down));
    return sets;
  }

  /// Half-way down or, where the ball would not come so deep, resting depth; then as far up as the
  /// ball stays whole under the rim, where a shank finds more room (a point: an eighth of the
  /// depth).
  [[nodiscard]] std::vector<double> depths_on_wall(double depth) const {
    const double deepest = depth - ball_radius_;
    const double middle = std::min(depth / 2, deepest);
    if (middle <= 0) return {};
    std::vector<double> depths{middle};
    const double shallow = ball_radius_ > 0 ? ball_radius_ : depth / 8;
    if (shallow < middle) depths.push_back(shallow);
    return depths;
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

  /// First the round ends, then the straight walls. Of every five touches each end has one; one
  /// alone stands in its middle, more at even steps round it. The walls share the others.
  [[nodiscard]] TouchSet wall(const SlotFeature& slot, double down) const {
    const int count = feature_.touch_count.value_or(10);
    const int at_end = count / 5, on_walls = count - 2 * at_end;
    const Vec3 across = slot.axis.cross(slot.along), middle = slot.centre - down * slot.axis;
    const double radius = slot.width / 2, straight = slot.length - slot.width;
    TouchSet set{Way::wall, {}};
    const auto put = [&](const Vec3& round_about, const Vec3& out) {
      set.touches.push_back(ball_on(round_about + radius * out, -out, ball_radius_));
    };
    for (const double side : {1.0, -1.0}) {
      for (int i = 0; i < at_end; ++i) {
        const double angle = kTurn / 2 * ((i + 0.5) / at_end - 0.5);
        put(middle + side * straight / 2 * slot.along,
            side * cosine(angle) * slot.along + sine(angle) * across);
      }
    }
    for (const double side : {1.0, -1.0}) {
      const int on_this = side > 0 ? (on_walls + 1) / 2 : on_walls / 2;
      for (int i = 0; i < on_this; ++i)
        put(middle + along_stretch(straight, i, on_this) * slot.along, side * across);
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
