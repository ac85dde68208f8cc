#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "planner/network/network.h"
#include "standpoint/scene.h"

namespace standpoint {

/// One reading that says where the instrument stands: of a nest, or of a touch of a feature.
struct SeenRow {
  std::optional<NestId> nest;  ///< else it is a touch of `feature`
  FeatureId feature;
  std::optional<std::uint32_t> touch;  ///< which of its touches, from 0; nothing: any point on it
  TargetId target;                     ///< of a feature: what the software was told
  Vec3 at = Vec3::Zero();  ///< the ball's or the tip's centre, instrument's frame (its origin is
                           ///< the measuring centre), mm
};

/// How well a hand finds a point of a surface, across its normal: standard uncertainty, mm (common
/// practice: good to a millimetre).
inline constexpr double kByHand = 1;

/// Along what a reading is held.
enum class Holds : std::uint8_t {
  place,  ///< a nest, a point that is told exactly: three directions
  point,  ///< a point of a surface: its normal, and across it as well as a hand finds it
  rim,    ///< a hole as a whole: the two directions of its rim's plane
  wall,   ///< any surface: its normal
};

/// A reading beside what the part or the nests say of it.
struct HeldRow {
  Holds holds = Holds::wall;
  Vec3 read = Vec3::Zero();            ///< instrument's frame, mm
  Mat3 covariance = Mat3::Identity();  ///< of `read`, instrument's frame, mm^2; positive definite
  Shape wall;                          ///< of Holds::wall
  Vec3 centre = Vec3::Zero();          ///< a nest's place, a point, a hole's centre; world, mm
  Vec3 normal = Vec3::UnitZ();         ///< of a point, or the hole's axis
  double radius = 0;                   ///< of the ball as told, mm; 0 of a nest
  double form = 0;                     ///< standard uncertainty of the part's form, mm

  /// Where the optical centre should be as far as the scene tells: the touch's own place, or the
  /// middle of the feature's touches. World, mm.
  Vec3 anchor = Vec3::Zero();
  bool is_anchored = false;  ///< it is the touch's own place
  double extent = 0;         ///< else: how far from the middle the feature reaches, mm
};

/// What a row leaves at a pose. Its directions are rows 0 to `count` - 1.
struct RowMisfit {
  int count = 0;                  ///< 1 to 3
  Vec3 off = Vec3::Zero();        ///< along each direction, mm
  Mat3 held = Mat3::Zero();       ///< the directions, a row each: unit, world
  Vec3 by_radius = Vec3::Zero();  ///< how `off` grows when the ball was larger than told, mm a mm
};

/// Why a row of a feature cannot be used.
enum class RowFault : std::uint8_t {
  no_way,       ///< the target that was told cannot take the feature
  no_touch,     ///< the feature has fewer touches by that target
  needs_touch,  ///< a curved surface: the row must say which of its touches it is
};

struct RowResult {
  std::optional<HeldRow> row;
  RowFault fault = RowFault::no_way;  ///< where there is no row
  std::size_t touches = 0;            ///< how many the feature has by that target
};

/// What a reading is held by: `touch_sets` with the target that was told, in the first way that it
/// can be taken. Covariance of contract section 6 with the stylus's own error (of a two-ball
/// stylus, whose rod's direction the list does not tell, as if both balls stood in the tip), a
/// nest's repeatability where stated; the same for all where the scene states no error. `form` is
/// the alignment's where the scene states one. Preconditions: ids of the scene; `at` is not zero.
/// O(touches).
[[nodiscard]] RowResult held_row(const Scene& scene, const SeenRow& seen);

/// What is left of the row where its reading lies at `in_world`, were the ball larger than told by
/// `larger` mm. Pure. O(1), of planes and surfaces O(places).
[[nodiscard]] RowMisfit row_misfit(const HeldRow& row, const Vec3& in_world, double larger = 0);

/// The covariance of `RowMisfit::off` where the instrument is turned by `world_from_instrument`:
/// of the reading, the part's form, and the hand that finds a point. Its first `count` rows and
/// columns count, the rest is that of the identity. mm^2.
[[nodiscard]] Mat3 row_covariance(const HeldRow& row, const RowMisfit& misfit,
                                  const Mat3& world_from_instrument);

}  // namespace standpoint
