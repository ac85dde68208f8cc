// Included once for every SIMD target (Highway's foreach_target): no ordinary include guard.
#if defined(STANDPOINT_TREE_SIMD_INL) == defined(HWY_TARGET_TOGGLE)
#ifdef STANDPOINT_TREE_SIMD_INL
#undef STANDPOINT_TREE_SIMD_INL
#else
#define STANDPOINT_TREE_SIMD_INL
#endif

#include <hwy/highway.h>

#include <limits>

#include "geometry/tree_layout.h"
#include "geometry/tree_probe.h"

HWY_BEFORE_NAMESPACE();
namespace standpoint::tree {
namespace HWY_NAMESPACE {

namespace hn = hwy::HWY_NAMESPACE;

/// Eight lanes where the machine has them, else fewer and several steps.
using Tag = hn::CappedTag<float, kWidth>;
using Vector = hn::Vec<Tag>;

template <class M>
HWY_INLINE std::uint32_t bits_of(Tag tag, M mask) {
  std::uint8_t bits[8] = {};
  hn::StoreMaskBits(tag, mask, bits);
  return bits[0];
}

/// The probe's axis, widened by a radius, in the form that meets boxes with six multiply-adds: a
/// plane at coordinate c is passed at t = c * inverse + near (or far).
struct Tube {
  float inverse[3];
  float near_plane[3], far_plane[3];
  std::size_t near_side[3];  ///< 0: a box is entered through its low side, 3: its high side
  float from = 0;            ///< the part of the axis that matters
  float to = 0;

  Tube(const Probe& probe, float radius) {
    for (std::size_t i = 0; i < 3; ++i) {
      inverse[i] = probe.inverse[i];
      near_side[i] = probe.is_negative[i] ? 3 : 0;
    }
    widen(probe, radius);
    to = probe.length + probe.slack;
  }
  void widen(const Probe& probe, float radius) {
    for (int i = 0; i < 3; ++i) {
      const float ahead = probe.is_negative[i] ? -radius : radius;
      near_plane[i] = -(probe.start[i] + ahead) * inverse[i];
      far_plane[i] = -(probe.start[i] - ahead) * inverse[i];
    }
  }
};

/// The children of a node that the tube meets, as bits of lanes; and for each lane where along the
/// axis its widened box is entered.
HWY_INLINE std::uint32_t meet_boxes(const Node& node, const Tube& tube, float* HWY_RESTRICT entry) {
  const Tag tag;
  std::uint32_t met = 0;
  const float* faces = &node.face[0][0];
  for (std::size_t lane = 0; lane < kWidth; lane += hn::Lanes(tag)) {
    Vector near[3], far[3];
    for (std::size_t i = 0; i < 3; ++i) {
      const Vector inverse = hn::Set(tag, tube.inverse[i]);
      const float* in = faces + (i + tube.near_side[i]) * kWidth + lane;
      const float* out = faces + (i + 3 - tube.near_side[i]) * kWidth + lane;
      near[i] = hn::MulAdd(hn::Load(tag, in), inverse, hn::Set(tag, tube.near_plane[i]));
      far[i] = hn::MulAdd(hn::Load(tag, out), inverse, hn::Set(tag, tube.far_plane[i]));
    }
    const Vector from =
        hn::Max(hn::Max(near[0], near[1]), hn::Max(near[2], hn::Set(tag, tube.from)));
    const Vector to = hn::Min(hn::Min(far[0], far[1]), hn::Min(far[2], hn::Set(tag, tube.to)));
    hn::Store(from, tag, entry + lane);
    // An unused lane lies at infinity: from = +inf or to = -inf, never met.
    met |= bits_of(tag, hn::Le(from, to)) << lane;
  }
  return met;
}

/// A block's triangles as seen along the axis: corner i is (x, y) across it and z along it.
struct Seen {
  Vector x[3], y[3], z[3];
  Vector z_low, z_high;
  Vector beside;  ///< at most the distance from the axis: how far the bounding box is off

  HWY_INLINE Seen(const Block& block, const Probe& probe, std::size_t lane) {
    const Tag tag;
    for (int c = 0; c < 3; ++c) {
      const Vector cx = hn::Load(tag, block.corner[c][0] + lane);
      const Vector cy = hn::Load(tag, block.corner[c][1] + lane);
      const Vector cz = hn::Load(tag, block.corner[c][2] + lane);
      const auto along = [&](int row) HWY_ATTR {
        const float* f = probe.frame[row];
        return hn::MulAdd(
            cx, hn::Set(tag, f[0]),
            hn::MulAdd(cy, hn::Set(tag, f[1]),
                       hn::MulAdd(cz, hn::Set(tag, f[2]), hn::Set(tag, probe.offset[row]))));
      };
      x[c] = along(0);
      y[c] = along(1);
      z[c] = along(2);
    }
    z_low = hn::Min(z[0], hn::Min(z[1], z[2]));
    z_high = hn::Max(z[0], hn::Max(z[1], z[2]));
    const auto off = [&](const Vector* v) HWY_ATTR {
      return hn::Max(hn::Min(v[0], hn::Min(v[1], v[2])),
                     hn::Neg(hn::Max(v[0], hn::Max(v[1], v[2]))));
    };
    const Vector beyond = hn::Max(hn::Neg(z_high), hn::Sub(z_low, hn::Set(tag, probe.length)));
    beside = hn::Max(hn::Max(off(x), off(y)), beyond);
  }
};

/// On which sides of each triangle's plane the axis' ends lie (docs/beam.md, eq. 9 and 10).
struct Sides {
  hn::Mask<Tag> opposite;  ///< surely on opposite sides
  hn::Mask<Tag> beyond;    ///< surely on one side, both farther than `radius`

  HWY_INLINE Sides(const Seen& seen, const Probe& probe, float radius) {
    const Tag tag;
    const auto sum3 = [](const Vector& a, const Vector& b, const Vector& c)
                          HWY_ATTR { return hn::Add(hn::Abs(a), hn::Add(hn::Abs(b), hn::Abs(c))); };
    const Vector ax = hn::Sub(seen.x[1], seen.x[0]), bx = hn::Sub(seen.x[2], seen.x[0]);
    const Vector ay = hn::Sub(seen.y[1], seen.y[0]), by = hn::Sub(seen.y[2], seen.y[0]);
    const Vector az = hn::Sub(seen.z[1], seen.z[0]), bz = hn::Sub(seen.z[2], seen.z[0]);
    const Vector nx = hn::MulSub(ay, bz, hn::Mul(az, by));
    const Vector ny = hn::MulSub(az, bx, hn::Mul(ax, bz));
    const Vector nz = hn::MulSub(ax, by, hn::Mul(ay, bx));
    const Vector edges = hn::Add(sum3(ax, ay, az), sum3(bx, by, bz));
    const Vector unsure = hn::Mul(hn::Set(tag, 3 * probe.slack), edges);
    const Vector away = hn::Mul(hn::Set(tag, radius), sum3(nx, ny, nz));
    const Vector x = seen.x[0], y = seen.y[0], z = seen.z[0];
    const Vector z_end = hn::Sub(z, hn::Set(tag, probe.length));
    const Vector across = hn::MulAdd(x, nx, hn::Mul(y, ny));
    const Vector at_start = hn::MulAdd(z, nz, across), at_end = hn::MulAdd(z_end, nz, across);
    const Vector off_start = hn::Mul(unsure, hn::Add(edges, sum3(x, y, z)));
    const Vector off_end = hn::Mul(unsure, hn::Add(edges, sum3(x, y, z_end)));
    const auto above = [&](const Vector& start, const Vector& end, const Vector& by_more) HWY_ATTR {
      return hn::And(hn::Gt(start, hn::Add(off_start, by_more)),
                     hn::Gt(end, hn::Add(off_end, by_more)));
    };
    const Vector down_start = hn::Neg(at_start), down_end = hn::Neg(at_end);
    const Vector zero = hn::Zero(tag);
    opposite = hn::Or(above(at_start, down_end, zero), above(down_start, at_end, zero));
    beyond = hn::Or(above(at_start, at_end, away), above(down_start, down_end, away));
  }
};

/// Triangles of a block that may come within `radius` of the axis, and those that surely come
/// within `sure_radius` of it between its ends; bits of lanes.
struct Verdicts {
  std::uint32_t maybe = 0;
  std::uint32_t sure = 0;
};

/// Radii in mm, `radius` with the slack added and `sure_radius` with the slack taken off; where the
/// latter is negative nothing is sure. docs/beam.md, section 4, shows that `maybe` misses none and
/// `sure` names none wrongly.
HWY_INLINE Verdicts look_at_block(const Block& block, const Probe& probe, float radius,
                                  float sure_radius) {
  const Tag tag;
  Verdicts verdicts;
  const Vector slack2 = hn::Set(tag, probe.slack * probe.slack);
  const Vector radius2 = hn::Set(tag, radius * radius);
  const Vector sure2 = hn::Set(tag, sure_radius < 0 ? -1.0f : sure_radius * sure_radius);
  const Vector zero = hn::Zero(tag);
  for (std::size_t lane = 0; lane < kWidth; lane += hn::Lanes(tag)) {
    const Seen seen(block, probe, lane);
    const auto is_near = hn::Le(seen.beside, hn::Set(tag, radius));
    if (hn::AllFalse(tag, is_near)) continue;
    Vector turn_low, turn_high, depth;
    const auto none = hn::Lt(radius2, zero);
    auto touched = none, surely_touched = none;
    for (int i = 0; i < 3; ++i) {
      const int j = (i + 1) % 3;
      const Vector x = seen.x[i], y = seen.y[i];
      const Vector ex = hn::Sub(seen.x[j], x), ey = hn::Sub(seen.y[j], y);
      const Vector e2 = hn::MulAdd(ex, ex, hn::Mul(ey, ey));
      const Vector back = hn::NegMulAdd(x, ex, hn::Neg(hn::Mul(y, ey)));  // -p.e
      const Vector turn = hn::MulSub(x, ey, hn::Mul(y, ex));
      const Vector turn2 = hn::Mul(turn, turn);
      const auto beside_edge = hn::And(hn::Ge(back, zero), hn::Le(back, e2));
      const Vector corner2 = hn::MulAdd(x, x, hn::Mul(y, y));
      const auto within = [&](const Vector& r2) HWY_ATTR {
        return hn::Or(hn::Le(corner2, r2), hn::And(beside_edge, hn::Lt(turn2, hn::Mul(r2, e2))));
      };
      touched = hn::Or(touched, within(radius2));
      surely_touched = hn::Or(surely_touched, within(sure2));
      const Vector inside_by = hn::NegMulAdd(slack2, e2, turn2);
      turn_low = i == 0 ? turn : hn::Min(turn_low, turn);
      turn_high = i == 0 ? turn : hn::Max(turn_high, turn);
      depth = i == 0 ? inside_by : hn::Min(depth, inside_by);
    }
    const auto around = hn::Or(hn::Ge(turn_low, zero), hn::Le(turn_high, zero));
    const auto maybe = hn::And(is_near, hn::Or(around, touched));
    if (hn::AllFalse(tag, maybe)) continue;
    const Sides sides(seen, probe, radius);
    const auto between = hn::And(hn::Ge(seen.z_low, hn::Set(tag, probe.slack)),
                                 hn::Le(seen.z_high, hn::Set(tag, probe.length - probe.slack)));
    const auto pierced =
        hn::And(hn::And(around, hn::Gt(depth, zero)), hn::And(sides.opposite, hn::Ge(sure2, zero)));
    const auto sure = hn::Or(pierced, hn::And(between, surely_touched));
    verdicts.maybe |= bits_of(tag, hn::AndNot(sides.beyond, maybe)) << lane;
    verdicts.sure |= bits_of(tag, sure) << lane;
  }
  return verdicts;
}

/// Bounds of each triangle's margin, widened by the slack.
HWY_INLINE void bound_margins(const Block& block, const Probe& probe, float* HWY_RESTRICT lower,
                              float* HWY_RESTRICT upper) {
  const Tag tag;
  const Vector zero = hn::Zero(tag), one = hn::Set(tag, 1.0f);
  const Vector slack = hn::Set(tag, probe.slack), slack2 = hn::Mul(slack, slack);
  const Vector length = hn::Set(tag, probe.length);
  const Vector radius = hn::Set(tag, probe.start_radius), slope = hn::Set(tag, probe.slope);
  for (std::size_t lane = 0; lane < kWidth; lane += hn::Lanes(tag)) {
    const Seen seen(block, probe, lane);
    Vector turn_low, turn_high, depth;
    Vector near2 = hn::Set(tag, std::numeric_limits<float>::max()), near_z = zero;
    for (int i = 0; i < 3; ++i) {
      const int j = (i + 1) % 3;
      const Vector x = seen.x[i], y = seen.y[i];
      const Vector ex = hn::Sub(seen.x[j], x), ey = hn::Sub(seen.y[j], y);
      const Vector e2 = hn::MulAdd(ex, ex, hn::Mul(ey, ey));
      const Vector back = hn::NegMulAdd(x, ex, hn::Neg(hn::Mul(y, ey)));  // -p.e
      const Vector turn = hn::MulSub(x, ey, hn::Mul(y, ex));
      const Vector inside_by = hn::NegMulAdd(slack2, e2, hn::Mul(turn, turn));
      turn_low = i == 0 ? turn : hn::Min(turn_low, turn);
      turn_high = i == 0 ? turn : hn::Max(turn_high, turn);
      depth = i == 0 ? inside_by : hn::Min(depth, inside_by);
      // A point-like edge divides by the least number: s is clamped all the same.
      const Vector s =
          hn::Min(hn::Max(hn::Div(back, hn::Max(e2, hn::Set(tag, 1e-30f))), zero), one);
      const Vector qx = hn::MulAdd(s, ex, x), qy = hn::MulAdd(s, ey, y);
      const Vector qz = hn::MulAdd(s, hn::Sub(seen.z[j], seen.z[i]), seen.z[i]);
      const Vector q2 = hn::MulAdd(qx, qx, hn::Mul(qy, qy));
      near_z = hn::IfThenElse(hn::Lt(q2, near2), qz, near_z);
      near2 = hn::Min(near2, q2);
    }
    const auto around = hn::Or(hn::Ge(turn_low, zero), hn::Le(turn_high, zero));
    const Vector rho2 = hn::IfThenZeroElse(around, near2);
    const Vector gap = hn::Max(zero, hn::Max(hn::Neg(seen.z_high), hn::Sub(seen.z_low, length)));
    // Eq. 6 and 7: two lower bounds, one for the caps and one for the cone between.
    const Vector caps =
        hn::Sub(hn::Sqrt(hn::MulAdd(gap, gap, rho2)), hn::Set(tag, probe.greatest_radius));
    const Vector low_run = hn::Mul(slope, seen.z_low), high_run = hn::Mul(slope, seen.z_high);
    const Vector cone = hn::Sub(hn::MulSub(hn::Sqrt(rho2), hn::Set(tag, probe.cosine), radius),
                                hn::Max(low_run, high_run));
    hn::Store(hn::Sub(hn::Max(caps, cone), slack), tag, lower + lane);
    // The nearest edge point is a point of the triangle: its margin is an upper bound.
    const Vector t = hn::Min(hn::Max(near_z, zero), length);
    const Vector off = hn::Sub(near_z, t);
    const Vector edge =
        hn::Sub(hn::Sqrt(hn::MulAdd(off, off, near2)), hn::MulAdd(slope, t, radius));
    const auto between =
        hn::And(hn::Ge(seen.z_low, slack), hn::Le(seen.z_high, hn::Sub(length, slack)));
    const auto pierced = hn::And(hn::And(around, between), hn::Gt(depth, zero));
    const Vector through = hn::Neg(hn::Add(radius, hn::Min(low_run, high_run)));
    const Vector above = hn::IfThenElse(pierced, hn::Min(edge, through), edge);
    hn::Store(hn::Add(above, slack), tag, upper + lane);
  }
}

/// The lane of the child whose box is nearest to the probe's start.
HWY_INLINE int nearest_box(const Node& node, const Probe& probe) {
  const Tag tag;
  alignas(64) float distance[kWidth];
  for (std::size_t lane = 0; lane < kWidth; lane += hn::Lanes(tag)) {
    Vector sum = hn::Zero(tag);
    for (int i = 0; i < 3; ++i) {
      const Vector start = hn::Set(tag, probe.start[i]);
      const Vector off = hn::Max(hn::Max(hn::Sub(hn::Load(tag, node.face[i] + lane), start),
                                         hn::Sub(start, hn::Load(tag, node.face[i + 3] + lane))),
                                 hn::Zero(tag));
      sum = hn::MulAdd(off, off, sum);
    }
    hn::Store(sum, tag, distance + lane);
  }
  int best = 0;
  for (int lane = 1; lane < kWidth; ++lane) {
    if (distance[lane] < distance[best]) best = lane;
  }
  return best;
}

}  // namespace HWY_NAMESPACE
}  // namespace standpoint::tree
HWY_AFTER_NAMESPACE();

#endif
