#pragma once

#include <limits>
#include <optional>
#include <vector>

#include "standpoint/scene.h"
#include "tests/planner/scene_builder.h"

namespace standpoint::test {

// What reach is held against: contract section 3 written down a second time, plainly. It shares the
// scene's structs with the program and no code: distances are CGAL's (double kernel), the least
// margin along an axis is found by golden section (distance - radius is convex along the axis),
// every triangle is asked, and directions to hold a stylus are sampled densely.

/// A target's ball or tip where it is put: C, n, the seat's half-angle, and whether it is a nest.
struct OraclePlace {
  Vec3 centre;
  Vec3 normal;
  double seat_rad = 0;
  bool is_nest = false;
};

/// By how much each rule holds (positive) or fails (negative), mm or rad; infinite where a rule
/// asks nothing. The verdict is whether none is negative.
struct OracleScores {
  static constexpr double kNothingAsked = std::numeric_limits<double>::infinity();
  double fit = kNothingAsked, range = kNothingAsked, elevation = kNothingAsked,
         acceptance = kNothingAsked, beam = kNothingAsked, shank = kNothingAsked,
         head = kNothingAsked;
  [[nodiscard]] double least() const;
};

/// Where a beam is first broken.
struct OracleBreak {
  double distance;                  ///< along the axis, mm
  std::vector<std::size_t> bodies;  ///< those that break it within 1e-4 of there
};

class Oracle {
 public:
  /// Keeps a reference to the scene.
  explicit Oracle(const MadeScene& scene);
  ~Oracle();
  Oracle(const Oracle&) = delete;
  Oracle& operator=(const Oracle&) = delete;

  [[nodiscard]] OracleScores full_target(const FullTarget& target, const OraclePlace& place,
                                         const Vec3& station) const;
  /// A stylus held along the unit vector `s`. With `is_quick` it stops at the first rule that
  /// surely fails and leaves the rest infinite.
  [[nodiscard]] OracleScores stylus(const OffsetStylus& stylus, const OraclePlace& place,
                                    const Vec3& station, const Vec3& s,
                                    bool is_quick = false) const;
  /// Whether all sampled directions of some disc of 2 degrees can hold the stylus: then the program
  /// must find one. Samples are less than 0.25 degrees apart.
  [[nodiscard]] bool holds_a_disc(const OffsetStylus& stylus, const OraclePlace& place,
                                  const Vec3& station) const;

  [[nodiscard]] std::optional<OracleBreak> first_break(const FullTarget& target,
                                                       const OraclePlace& place,
                                                       const Vec3& station) const;

 private:
  static constexpr double kInfinite = std::numeric_limits<double>::infinity();
  struct Triangle;
  struct Cone;
  class Grid;
  [[nodiscard]] double least_margin(const Cone& cone, double stop_below = -kInfinite,
                                    double enough = kInfinite) const;
  [[nodiscard]] Cone beam(const Vec3& station, const Vec3& end) const;
  [[nodiscard]] double beam_margin(const FullTarget& target, const OraclePlace& place,
                                   const Vec3& station) const;
  [[nodiscard]] double beam_margin(const OffsetStylus& stylus, const OraclePlace& place,
                                   const Vec3& station, const Vec3& s, double stop_below) const;
  [[nodiscard]] OracleScores stylus_seen(const OffsetStylus& stylus, const OraclePlace& place,
                                         const Vec3& station, const Vec3& s) const;

  const Scene& scene_;
  std::vector<Triangle> triangles_;
  mutable std::size_t last_blocker_ = 0;  ///< asked first: only speed
};

}  // namespace standpoint::test
