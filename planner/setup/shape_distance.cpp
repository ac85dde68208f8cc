#include "planner/setup/shape_distance.h"

#include <algorithm>
#include <limits>

#include "geometry/trigonometry.h"

namespace standpoint {
namespace {

SurfaceDistance turned_inside(const SurfaceDistance& outside) {
  return {-outside.mm, -outside.out};
}

SurfaceDistance from_plane(const Vec3& at, const Vec3& normal, const Vec3& point) {
  return {normal.dot(point - at), normal};
}

/// From what lies `radius` about the end of `lever`, which leads to the point.
SurfaceDistance from_round(const Vec3& lever, double radius, const Vec3& any) {
  const double length = lever.norm();
  return {length - radius, length > 0 ? Vec3(lever / length) : any};
}

Vec3 across(const Vec3& lever, const Vec3& axis) {
  return lever - lever.dot(axis) * axis;
}

struct DistanceFrom {
  const Vec3& point;

  SurfaceDistance operator()(const PointFeature& place) const {
    return from_plane(place.at, place.normal, point);
  }

  SurfaceDistance operator()(const PlaneFeature& plane) const {
    Vec3 mean = Vec3::Zero();
    for (const Vec3& at : plane.points) mean += at / static_cast<double>(plane.points.size());
    return from_plane(mean, plane.normal, point);
  }

  SurfaceDistance operator()(const LineFeature& line) const {
    return from_plane((line.from + line.to) / 2, line.normal, point);
  }

  SurfaceDistance operator()(const HoleFeature& hole) const {
    return turned_inside(from_round(across(point - hole.centre, hole.axis), hole.radius,
                                    any_perpendicular(hole.axis)));
  }

  SurfaceDistance operator()(const CylinderFeature& cylinder) const {
    const SurfaceDistance outside = from_round(across(point - cylinder.centre, cylinder.axis),
                                               cylinder.radius, any_perpendicular(cylinder.axis));
    return cylinder.inside ? turned_inside(outside) : outside;
  }

  SurfaceDistance operator()(const SphereFeature& sphere) const {
    return from_round(point - sphere.centre, sphere.radius, sphere.toward);
  }

  /// In the half-plane of the point and the axis the wall is a straight line that ends at the tip.
  SurfaceDistance operator()(const ConeFeature& cone) const {
    const Vec3 lever = point - cone.centre, level = across(lever, cone.axis);
    const double along = lever.dot(cone.axis), off = level.norm();
    const double cos = cosine(cone.half_angle_rad), sin = sine(cone.half_angle_rad);
    const Vec3 away = off > 0 ? Vec3(level / off) : any_perpendicular(cone.axis);
    SurfaceDistance outside{(off - cone.radius) * cos + along * sin, cos * away + sin * cone.axis};
    if (off < outside.mm * cos) {  // the nearest place of the straight line is past the tip
      const Vec3 tip = cone.centre + cone.radius * cos / sin * cone.axis;
      outside = from_round(point - tip, 0, cone.axis);
    }
    return cone.inside ? turned_inside(outside) : outside;
  }

  /// All of the wall is half the width off the line between the two round ends' centres.
  SurfaceDistance operator()(const SlotFeature& slot) const {
    const double half = (slot.length - slot.width) / 2;
    const Vec3 level = across(point - slot.centre, slot.axis);
    const double along = std::clamp(level.dot(slot.along), -half, half);
    return turned_inside(
        from_round(level - along * slot.along, slot.width / 2, slot.axis.cross(slot.along)));
  }

  SurfaceDistance operator()(const SurfaceFeature& surface) const {
    const PointFeature* nearest = nullptr;
    double least = std::numeric_limits<double>::infinity();
    for (const PointFeature& place : surface.touches) {
      const double square = (place.at - point).squaredNorm();
      if (square >= least) continue;
      least = square;
      nearest = &place;
    }
    return from_plane(nearest->at, nearest->normal, point);
  }
};

}  // namespace

SurfaceDistance surface_distance(const Shape& shape, const Vec3& point) {
  return std::visit(DistanceFrom{point}, shape);
}

}  // namespace standpoint
