#include "geometry/directions.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "geometry/trigonometry.h"

namespace standpoint {
namespace {

/// The direction at the fractions (a, b), 0..1, across a face of the cube.
Vec3 on_face(int face, double a, double b) {
  constexpr double kQuarter = std::numbers::pi / 4;
  const double y = tangent((2 * a - 1) * kQuarter);
  const double z = tangent((2 * b - 1) * kQuarter);
  const double sign = face < 3 ? 1.0 : -1.0;
  Vec3 direction;
  direction[face % 3] = sign;
  direction[(face + 1) % 3] = sign * y;
  direction[(face + 2) % 3] = z;
  return direction.normalized();
}

/// The patch's own points, worked out.
Vec3 make_centre(const DirectionPatch& patch) {
  const int side = 1 << patch.level;
  return on_face(patch.face, (patch.i + 0.5) / side, (patch.j + 0.5) / side);
}
std::array<Vec3, 4> make_corners(const DirectionPatch& patch) {
  const auto corner = [&](int di, int dj) {
    const double side = 1 << patch.level;
    return on_face(patch.face, (patch.i + di) / side, (patch.j + dj) / side);
  };
  return {corner(0, 0), corner(1, 0), corner(1, 1), corner(0, 1)};
}

/// All patches of one level, worked out once: searches ask them over and over.
struct Level {
  std::vector<Vec3> centres;
  std::vector<std::array<Vec3, 4>> corners;
  double radius_rad = 0, radius_chord = 0;

  explicit Level(int level) {
    for (std::uint32_t k = 0; k < DirectionPatch::count_at(level); ++k) {
      const DirectionPatch patch = DirectionPatch::of_index(level, k);
      centres.push_back(make_centre(patch));
      corners.push_back(make_corners(patch));
      for (const Vec3& corner : corners.back()) {
        radius_rad = std::max(radius_rad, angle_between(centres.back(), corner));
      }
    }
    radius_chord = 2 * sine(radius_rad / 2);
  }
};

const Level& level_of(int level) {
  // 3 MB, most of it the finest.
  static const std::vector<Level> levels = [] {
    std::vector<Level> made;
    for (int l = 0; l <= DirectionPatch::kFinestLevel; ++l) made.emplace_back(l);
    return made;
  }();
  return levels[static_cast<std::size_t>(level)];
}

/// Descends from one patch for any_finest_within.
class Within {
 public:
  Within(const Vec3& axis, double angle_rad, const std::function<bool(std::uint32_t)>& visit)
      : axis_(axis), angle_rad_(angle_rad), visit_(visit) {
    for (int level = 0; level < DirectionPatch::kFinestLevel; ++level) {
      const double reach_rad = angle_rad + level_of(level).radius_rad;
      least_cosine_[level] = reach_rad < std::numbers::pi ? cosine(reach_rad) - kSlack : -2;
    }
    cosine_ = angle_rad < std::numbers::pi ? cosine(angle_rad) : -2;
  }

  [[nodiscard]] bool any(const DirectionPatch& patch) const {
    const double cosine = axis_.dot(patch.centre());
    if (patch.level == DirectionPatch::kFinestLevel) {
      return is_within(cosine, patch.centre()) && visit_(patch.index());
    }
    if (cosine < least_cosine_[patch.level]) return false;
    for (int which = 0; which < 4; ++which) {
      if (any(patch.child(which))) return true;
    }
    return false;
  }

 private:
  static constexpr double kSlack = 1e-12;

  /// By the angle itself only where the cosine, which is cheaper, could be rounded wrongly.
  [[nodiscard]] bool is_within(double cosine, const Vec3& centre) const {
    if (std::abs(cosine - cosine_) > kSlack) return cosine > cosine_;
    return angle_between(axis_, centre) <= angle_rad_;
  }

  const Vec3& axis_;
  double angle_rad_;
  const std::function<bool(std::uint32_t)>& visit_;
  double cosine_;
  std::array<double, DirectionPatch::kFinestLevel> least_cosine_{};
};

}  // namespace

const Vec3& DirectionPatch::centre() const {
  return level_of(level).centres[index()];
}

const std::array<Vec3, 4>& DirectionPatch::corners() const {
  return level_of(level).corners[index()];
}

double DirectionPatch::radius_rad() const {
  return level_of(level).radius_rad;
}

double DirectionPatch::radius_chord() const {
  return level_of(level).radius_chord;
}

const std::vector<Vec3>& finest_directions() {
  return directions_at_level(DirectionPatch::kFinestLevel);
}

const std::vector<Vec3>& directions_at_level(int level) {
  return level_of(level).centres;
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
