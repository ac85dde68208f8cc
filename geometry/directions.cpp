#include "geometry/directions.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace standpoint {
namespace {

/// The direction at the fractions (a, b), 0..1, across a face of the cube.
Vec3 on_face(int face, double a, double b) {
  constexpr double kQuarter = std::numbers::pi / 4;
  const double y = std::tan((2 * a - 1) * kQuarter);
  const double z = std::tan((2 * b - 1) * kQuarter);
  const double sign = face < 3 ? 1.0 : -1.0;
  Vec3 direction;
  direction[face % 3] = sign;
  direction[(face + 1) % 3] = sign * y;
  direction[(face + 2) % 3] = z;
  return direction.normalized();
}

double measure_radius(int level) {
  double most = 0;
  for (std::uint32_t k = 0; k < DirectionPatch::count_at(level) / 6; ++k) {
    const DirectionPatch patch = DirectionPatch::of_index(level, k);
    for (const Vec3& corner : patch.corners()) {
      most = std::max(most, angle_between(patch.centre(), corner));
    }
  }
  return most;
}

/// Descends from one patch for any_finest_within.
class Within {
 public:
  Within(const Vec3& axis, double angle_rad, const std::function<bool(std::uint32_t)>& visit)
      : axis_(axis), angle_rad_(angle_rad), visit_(visit) {}

  [[nodiscard]] bool any(const DirectionPatch& patch) const {
    if (patch.level == DirectionPatch::kFinestLevel) {
      const std::uint32_t index = patch.index();
      return angle_between(axis_, finest_directions()[index]) <= angle_rad_ && visit_(index);
    }
    if (angle_between(axis_, patch.centre()) > angle_rad_ + patch.radius_rad()) return false;
    for (int which = 0; which < 4; ++which) {
      if (any(patch.child(which))) return true;
    }
    return false;
  }

 private:
  const Vec3& axis_;
  double angle_rad_;
  const std::function<bool(std::uint32_t)>& visit_;
};

}  // namespace

Vec3 DirectionPatch::centre() const {
  const int side = 1 << level;
  return on_face(face, (i + 0.5) / side, (j + 0.5) / side);
}

std::array<Vec3, 4> DirectionPatch::corners() const {
  const auto corner = [&](int di, int dj) {
    const double side = 1 << level;
    return on_face(face, (i + di) / side, (j + dj) / side);
  };
  return {corner(0, 0), corner(1, 0), corner(1, 1), corner(0, 1)};
}

std::array<Vec3, 8> DirectionPatch::hull() const {
  const std::array<Vec3, 4> inner = corners();
  const double outwards = 1 / std::cos(radius_rad());
  std::array<Vec3, 8> hull;
  for (std::size_t c = 0; c < 4; ++c) {
    hull[c] = inner[c];
    hull[c + 4] = outwards * inner[c];
  }
  return hull;
}

double DirectionPatch::radius_rad() const {
  static const auto radii = [] {
    std::array<double, kFinestLevel + 1> r{};
    for (int l = 0; l <= kFinestLevel; ++l) r[l] = measure_radius(l);
    return r;
  }();
  return radii[level];
}

std::vector<Vec3> directions_at_level(int level) {
  std::vector<Vec3> centres;
  centres.reserve(DirectionPatch::count_at(level));
  for (std::uint32_t k = 0; k < DirectionPatch::count_at(level); ++k) {
    centres.push_back(DirectionPatch::of_index(level, k).centre());
  }
  return centres;
}

const std::vector<Vec3>& finest_directions() {
  static const std::vector<Vec3> all = directions_at_level(DirectionPatch::kFinestLevel);
  return all;
}

bool any_finest_within(const Vec3& axis, double angle_rad,
                       const std::function<bool(std::uint32_t)>& visit) {
  const Within within(axis, angle_rad, visit);
  for (std::uint8_t face = 0; face < 6; ++face) {
    if (within.any({face, 0, 0, 0})) return true;
  }
  return false;
}

}  // namespace standpoint
