// Included once for every SIMD target (Highway's foreach_target): no ordinary include guard.
#if defined(STANDPOINT_TREE_TRIANGLES_INL) == defined(HWY_TARGET_TOGGLE)
#ifdef STANDPOINT_TREE_TRIANGLES_INL
#undef STANDPOINT_TREE_TRIANGLES_INL
#else
#define STANDPOINT_TREE_TRIANGLES_INL
#endif

#include <limits>

#include "geometry/tree/boxes-inl.h"

HWY_BEFORE_NAMESPACE();
namespace standpoint::tree {
namespace HWY_NAMESPACE {

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

/// How near to the axis a triangle must come to have a margin below some limit, mm, with the slack
/// added: anywhere, and at the axis' ends.
struct Radii {
  float greatest = 0, at_start = 0, at_end = 0;

  Radii() = default;
  HWY_INLINE Radii(const Probe& probe, float below)
      : greatest(below + probe.greatest_radius + probe.slack),
        at_start(below + probe.start_radius + probe.slack),
        at_end(below + probe.end_radius + probe.slack) {}
};

/// On which sides of each triangle's plane the axis' ends lie (docs/beam.md, eq. 9 and 10).
struct Sides {
  hn::Mask<Tag> opposite;  ///< surely on opposite sides
  hn::Mask<Tag> beyond;    ///< surely on one side, each farther than its radius

  HWY_INLINE Sides(const Seen& seen, const Probe& probe, const Radii& radii) {
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
    // The normal's length, with what its error may add.
    const Vector longest =
        hn::Add(unsure, hn::Sqrt(hn::MulAdd(nx, nx, hn::MulAdd(ny, ny, hn::Mul(nz, nz)))));
    const Vector away_start = hn::Mul(hn::Set(tag, radii.at_start), longest);
    const Vector away_end = hn::Mul(hn::Set(tag, radii.at_end), longest);
    const Vector x = seen.x[0], y = seen.y[0], z = seen.z[0];
    const Vector z_end = hn::Sub(z, hn::Set(tag, probe.length));
    const Vector across = hn::MulAdd(x, nx, hn::Mul(y, ny));
    const Vector at_start = hn::MulAdd(z, nz, across), at_end = hn::MulAdd(z_end, nz, across);
    const Vector off_start = hn::Mul(unsure, hn::Add(edges, sum3(x, y, z)));
    const Vector off_end = hn::Mul(unsure, hn::Add(edges, sum3(x, y, z_end)));
    const auto above = [&](const Vector& start, const Vector& end) HWY_ATTR {
      return hn::And(hn::Gt(start, off_start), hn::Gt(end, off_end));
    };
    const auto far_above = [&](const Vector& start, const Vector& end) HWY_ATTR {
      return hn::And(hn::Gt(start, hn::Add(off_start, away_start)),
                     hn::Gt(end, hn::Add(off_end, away_end)));
    };
    const Vector down_start = hn::Neg(at_start), down_end = hn::Neg(at_end);
    opposite = hn::Or(above(at_start, down_end), above(down_start, at_end));
    beyond = hn::Or(far_above(at_start, at_end), far_above(down_start, down_end));
  }
};

/// Triangles of a block that may come within the radii of the axis, and those that surely come
/// within `sure_radius` of it between its ends; bits of lanes.
struct Verdicts {
  std::uint32_t maybe = 0;
  std::uint32_t sure = 0;
};

/// Radii in mm, `sure_radius` with the slack taken off; where it is negative nothing is sure.
/// docs/beam.md, section 4, shows that `maybe` misses none and `sure` names none wrongly.
HWY_INLINE Verdicts look_at_block(const Block& block, const Probe& probe, const Radii& radii,
                                  float sure_radius) {
  const Tag tag;
  Verdicts verdicts;
  const Vector slack2 = hn::Set(tag, probe.slack * probe.slack);
  const float radius = radii.greatest;
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
    const Sides sides(seen, probe, radii);
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

// Of vectors of three coordinates, each for all lanes.
HWY_INLINE Vector dot(const Vector* a, const Vector* b) {
  return hn::MulAdd(a[0], b[0], hn::MulAdd(a[1], b[1], hn::Mul(a[2], b[2])));
}
HWY_INLINE void cross(const Vector* a, const Vector* b, Vector* c) {
  for (int i = 0; i < 3; ++i) {
    const int j = (i + 1) % 3, k = (i + 2) % 3;
    c[i] = hn::MulSub(a[j], b[k], hn::Mul(a[k], b[j]));
  }
}
/// Sum of absolute values.
HWY_INLINE Vector sum(const Vector* a) {
  return hn::Add(hn::Abs(a[0]), hn::Add(hn::Abs(a[1]), hn::Abs(a[2])));
}

/// Bounds of the distances of a block's triangles from the probe's start (or from another point of
/// its axis), without the slack (docs/beam.md, eq. 11).
struct FromStart {
  Vector lower, upper;

  HWY_INLINE FromStart(const Seen& seen, const Probe& probe, float along = 0) {
    const Tag tag;
    const Vector zero = hn::Zero(tag), one = hn::Set(tag, 1.0f), slack = hn::Set(tag, probe.slack);
    Vector corner[3][3], edge[3][3], normal[3];
    for (int c = 0; c < 3; ++c) {
      corner[c][0] = seen.x[c];
      corner[c][1] = seen.y[c];
      corner[c][2] = hn::Sub(seen.z[c], hn::Set(tag, along));
    }
    for (int c = 0; c < 3; ++c) {
      for (int i = 0; i < 3; ++i) edge[c][i] = hn::Sub(corner[(c + 1) % 3][i], corner[c][i]);
    }
    cross(edge[0], edge[1], normal);
    const Vector edges = hn::Add(sum(edge[0]), sum(edge[1]));
    const Vector normal_sum = hn::MulAdd(slack, edges, sum(normal));
    Vector least2 = hn::Set(tag, std::numeric_limits<float>::max());
    auto inside_up = hn::Ge(zero, zero), inside_down = inside_up, maybe_up = inside_up,
         maybe_down = inside_up;
    for (int c = 0; c < 3; ++c) {
      const Vector e2 = dot(edge[c], edge[c]);
      const Vector s = hn::Min(
          hn::Max(hn::Div(hn::Neg(dot(corner[c], edge[c])), hn::Max(e2, hn::Set(tag, 1e-30f))),
                  zero),
          one);
      Vector q[3], turn[3];
      for (int i = 0; i < 3; ++i) q[i] = hn::MulAdd(s, edge[c][i], corner[c][i]);
      least2 = hn::Min(least2, dot(q, q));
      cross(corner[c], edge[c], turn);
      const Vector side = dot(turn, normal);
      const Vector unsure = hn::Mul(
          hn::Add(slack, slack),
          hn::MulAdd(hn::Add(sum(edge[c]), sum(corner[c])), normal_sum, hn::Mul(sum(turn), edges)));
      inside_up = hn::And(inside_up, hn::Gt(side, unsure));
      inside_down = hn::And(inside_down, hn::Lt(side, hn::Neg(unsure)));
      maybe_up = hn::And(maybe_up, hn::Ge(side, hn::Neg(unsure)));
      maybe_down = hn::And(maybe_down, hn::Le(side, unsure));
    }
    const Vector to_edges = hn::Sqrt(least2);
    const Vector over = hn::Abs(dot(corner[0], normal));
    const Vector unsure_normal = hn::Mul(hn::Set(tag, 3 * probe.slack), edges);
    const Vector unsure_over = hn::Mul(unsure_normal, hn::Add(edges, sum(corner[0])));
    const Vector length = hn::Sqrt(dot(normal, normal));
    // Where all corners are one point 0 / least number, and the edges decide.
    const Vector least_height =
        hn::Div(hn::Max(hn::Sub(over, unsure_over), zero),
                hn::Max(hn::Add(length, unsure_normal), hn::Set(tag, 1e-30f)));
    lower = hn::IfThenElse(hn::Or(maybe_up, maybe_down), hn::Min(to_edges, least_height), to_edges);
    const Vector surely_long = hn::Sub(length, unsure_normal);
    const auto stands = hn::And(hn::Or(inside_up, inside_down), hn::Gt(surely_long, zero));
    const Vector most_height = hn::Div(hn::Add(over, unsure_over), surely_long);
    upper = hn::IfThenElse(stands, hn::Min(to_edges, most_height), to_edges);
  }
};

/// How a block's triangles lie about the axis' line, seen along it.
struct NearAxis {
  Vector distance2;      ///< of the edges' nearest point from the line, squared
  Vector along;          ///< where along the axis that point is
  hn::Mask<Tag> around;  ///< the outline may hold the line
  Vector depth;          ///< above 0 where the line is farther than the slack from every edge's

  HWY_INLINE NearAxis(const Seen& seen, const Vector& slack2) {
    const Tag tag;
    const Vector zero = hn::Zero(tag), one = hn::Set(tag, 1.0f);
    Vector turn_low, turn_high;
    distance2 = hn::Set(tag, std::numeric_limits<float>::max());
    along = zero;
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
      along = hn::IfThenElse(hn::Lt(q2, distance2), qz, along);
      distance2 = hn::Min(distance2, q2);
    }
    around = hn::Or(hn::Ge(turn_low, zero), hn::Le(turn_high, zero));
  }
};

/// Bounds of each triangle's margin, widened by the slack; close where it may be below `below`,
/// which falls to the least upper bound. Returns the lanes whose margin may be as low, as bits; of
/// other lanes the bounds may be anything.
HWY_INLINE std::uint32_t bound_margins(const Block& block, const Probe& probe, float& below,
                                       float* HWY_RESTRICT lower, float* HWY_RESTRICT upper) {
  const Tag tag;
  const Vector zero = hn::Zero(tag);
  const Vector slack = hn::Set(tag, probe.slack), slack2 = hn::Mul(slack, slack);
  const Vector length = hn::Set(tag, probe.length);
  const Vector radius = hn::Set(tag, probe.start_radius), slope = hn::Set(tag, probe.slope);
  std::uint32_t bounded = 0;
  for (std::size_t lane = 0; lane < kWidth; lane += hn::Lanes(tag)) {
    const Seen seen(block, probe, lane);
    const auto is_near =
        hn::Le(seen.beside, hn::Set(tag, below + probe.greatest_radius + probe.slack));
    if (hn::AllFalse(tag, is_near)) continue;
    bounded |= bits_of(tag, is_near) << lane;
    const NearAxis axis(seen, slack2);
    const Vector rho2 = hn::IfThenZeroElse(axis.around, axis.distance2);
    const Vector gap = hn::Max(zero, hn::Max(hn::Neg(seen.z_high), hn::Sub(seen.z_low, length)));
    // Eq. 6 and 7: two lower bounds, one for the caps and one for the cone between.
    const Vector caps =
        hn::Sub(hn::Sqrt(hn::MulAdd(gap, gap, rho2)), hn::Set(tag, probe.greatest_radius));
    const Vector low_run = hn::Mul(slope, seen.z_low), high_run = hn::Mul(slope, seen.z_high);
    const Vector cone = hn::Sub(hn::MulSub(hn::Sqrt(rho2), hn::Set(tag, probe.cosine), radius),
                                hn::Max(low_run, high_run));
    Vector least = hn::Max(caps, cone);
    // The nearest edge point is a point of the triangle: its margin is an upper bound.
    const Vector t = hn::Min(hn::Max(axis.along, zero), length);
    const Vector off = hn::Sub(axis.along, t);
    const Vector edge =
        hn::Sub(hn::Sqrt(hn::MulAdd(off, off, axis.distance2)), hn::MulAdd(slope, t, radius));
    const auto between =
        hn::And(hn::Ge(seen.z_low, slack), hn::Le(seen.z_high, hn::Sub(length, slack)));
    const auto pierced = hn::And(hn::And(axis.around, between), hn::Gt(axis.depth, zero));
    const Vector through = hn::Neg(hn::Add(radius, hn::Min(low_run, high_run)));
    Vector most = hn::IfThenElse(pierced, hn::Min(edge, through), edge);
    // Behind the start, where the radius only falls, or for a ball, only the start counts.
    const auto behind = hn::Or(hn::Le(seen.z_high, zero), hn::Le(length, zero));
    const auto in_question = hn::And(behind, hn::Le(least, hn::Set(tag, below + probe.slack)));
    if (probe.slope <= 0 && !hn::AllFalse(tag, in_question)) {
      const FromStart from_start(seen, probe);
      const Vector from_lower = hn::Sub(from_start.lower, radius);
      const Vector from_upper = hn::Sub(from_start.upper, radius);
      // Comparing, and not the greater of two: what overflowed to no number changes nothing.
      least = hn::IfThenElse(hn::And(behind, hn::Gt(from_lower, least)), from_lower, least);
      most = hn::IfThenElse(hn::And(behind, hn::Lt(from_upper, most)), from_upper, most);
    }
    hn::Store(hn::Sub(least, slack), tag, lower + lane);
    most = hn::IfThenElse(is_near, hn::Add(most, slack),
                          hn::Set(tag, std::numeric_limits<float>::max()));
    hn::Store(most, tag, upper + lane);
    below = std::min(below, hn::GetLane(hn::MinOfLanes(tag, most)));
  }
  std::uint32_t in_question = 0;
  for (; bounded != 0; bounded &= bounded - 1) {
    const int lane = __builtin_ctz(bounded);
    in_question |= lower[lane] <= below ? 1u << lane : 0u;
  }
  return in_question;
}

/// Whether one of some triangles (bits of lanes) has a margin surely below `below` at one of the
/// axis' ends.
HWY_INLINE bool any_end_within(const Block& block, const Probe& probe, float below,
                               std::uint32_t lanes) {
  const Tag tag;
  const Vector limit = hn::Set(tag, below - probe.slack);
  for (std::size_t lane = 0; lane < kWidth; lane += hn::Lanes(tag)) {
    const Seen seen(block, probe, lane);
    const FromStart start(seen, probe), end(seen, probe, probe.length);
    const auto is_within =
        hn::Or(hn::Lt(hn::Sub(start.upper, hn::Set(tag, probe.start_radius)), limit),
               hn::Lt(hn::Sub(end.upper, hn::Set(tag, probe.end_radius)), limit));
    if ((bits_of(tag, is_within) & (lanes >> lane)) != 0) return true;
  }
  return false;
}

}  // namespace HWY_NAMESPACE
}  // namespace standpoint::tree
HWY_AFTER_NAMESPACE();

#endif
