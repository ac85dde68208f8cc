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
  const int side = 1 << level;
  double most = 0;
  for (int i = 0; i < side; ++i) {
    for (int j = 0; j < side; ++j) {
      const Vec3 centre = on_face(0, (i + 0.5) / side, (j + 0.5) / side);
      for (const auto& [di, dj] : {std::pair{0, 0}, {0, 1}, {1, 0}, {1, 1}}) {
        const Vec3 corner =
            on_face(0, static_cast<double>(i + di) / side, static_cast<double>(j + dj) / side);
        most = std::max(most, angle_between(centre, corner));
      }
    }
  }
  return most;
}

}  // namespace

Vec3 DirectionPatch::centre() const {
  const int side = 1 << level;
  return on_face(face, (i + 0.5) / side, (j + 0.5) / side);
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
  const int side = 1 << level;
  std::vector<Vec3> centres;
  centres.reserve(static_cast<std::size_t>(6 * side * side));
  for (int face = 0; face < 6; ++face) {
    for (int i = 0; i < side; ++i) {
      for (int j = 0; j < side; ++j) {
        const DirectionPatch patch{static_cast<std::uint8_t>(face),
                                   static_cast<std::uint8_t>(level), static_cast<std::uint16_t>(i),
                                   static_cast<std::uint16_t>(j)};
        centres.push_back(patch.centre());
      }
    }
  }
  return centres;
}

const std::vector<Vec3>& finest_directions() {
  // In the order of finest_index.
  static const std::vector<Vec3> all = directions_at_level(DirectionPatch::kFinestLevel);
  return all;
}

}  // namespace standpoint
