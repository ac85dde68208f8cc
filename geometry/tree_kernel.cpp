#include "geometry/tree_kernel.h"

#include <algorithm>
#include <cmath>
#include <limits>

#undef HWY_TARGET_INCLUDE
#define HWY_TARGET_INCLUDE "geometry/tree_kernel.cpp"
#include <hwy/foreach_target.h>
//
#include <hwy/highway.h>

HWY_BEFORE_NAMESPACE();
namespace standpoint::tree {
namespace HWY_NAMESPACE {

namespace hn = hwy::HWY_NAMESPACE;

/// Eight lanes where the machine has them, else fewer and several steps.
using Tag = hn::CappedTag<float, kWidth>;
using Vector = hn::Vec<Tag>;

/// The children of a node that come within `radius` of the probe's axis: bits of lanes, and for
/// each lane where along the axis its widened box is entered.
inline std::uint32_t meet_boxes(const Node& node, const Probe& probe, float radius,
                                float* HWY_RESTRICT entry) {
  const Tag tag;
  const Vector grow = hn::Set(tag, radius);
  std::uint32_t met = 0;
  for (std::size_t lane = 0; lane < kWidth; lane += hn::Lanes(tag)) {
    Vector from = hn::Zero(tag);
    Vector to = hn::Set(tag, probe.length);
    for (int axis = 0; axis < 3; ++axis) {
      const Vector start = hn::Set(tag, probe.start[axis]);
      const Vector inverse = hn::Set(tag, probe.inverse[axis]);
      const Vector low = hn::Sub(hn::Load(tag, node.low[axis] + lane), grow);
      const Vector high = hn::Add(hn::Load(tag, node.high[axis] + lane), grow);
      const Vector t1 = hn::Mul(hn::Sub(low, start), inverse);
      const Vector t2 = hn::Mul(hn::Sub(high, start), inverse);
      from = hn::Max(from, hn::Min(t1, t2));
      to = hn::Min(to, hn::Max(t1, t2));
    }
    hn::Store(from, tag, entry + lane);
    // An unused lane lies at infinity: from = +inf or to = -inf, never met.
    std::uint8_t bits[8] = {};
    hn::StoreMaskBits(tag, hn::Le(from, to), bits);
    met |= static_cast<std::uint32_t>(bits[0]) << lane;
  }
  return met;
}

/// A lower bound of the distance, across the axis, of each triangle in the block from the axis
/// line; infinite where the triangle lies wholly beyond an end by more than `radius`.
inline void bound_distances(const Block& block, const Probe& probe, float radius,
                            float* HWY_RESTRICT bound) {
  const Tag tag;
  for (std::size_t lane = 0; lane < kWidth; lane += hn::Lanes(tag)) {
    Vector x[3], y[3], z[3];
    for (int corner = 0; corner < 3; ++corner) {
      Vector d[3];
      for (int axis = 0; axis < 3; ++axis) {
        d[axis] = hn::Sub(hn::Load(tag, block.corner[corner][axis] + lane),
                          hn::Set(tag, probe.start[axis]));
      }
      const auto along = [&](int row) HWY_ATTR {
        const float* f = probe.frame[row];
        return hn::MulAdd(d[0], hn::Set(tag, f[0]),
                          hn::MulAdd(d[1], hn::Set(tag, f[1]), hn::Mul(d[2], hn::Set(tag, f[2]))));
      };
      x[corner] = along(0);
      y[corner] = along(1);
      z[corner] = along(2);
    }
    Vector nearest2 = hn::Set(tag, std::numeric_limits<float>::max());
    Vector turn[3];
    for (int i = 0; i < 3; ++i) {
      const int j = (i + 1) % 3;
      const Vector ex = hn::Sub(x[j], x[i]);
      const Vector ey = hn::Sub(y[j], y[i]);
      const Vector e2 = hn::MulAdd(ex, ex, hn::Mul(ey, ey));
      const Vector dot = hn::MulAdd(x[i], ex, hn::Mul(y[i], ey));
      // A point-like edge divides by the least positive number: s is clamped all the same.
      const Vector s = hn::Div(hn::Neg(dot), hn::Max(e2, hn::Set(tag, 1e-30f)));
      const Vector clamped = hn::Min(hn::Max(s, hn::Zero(tag)), hn::Set(tag, 1.0f));
      const Vector qx = hn::MulAdd(clamped, ex, x[i]);
      const Vector qy = hn::MulAdd(clamped, ey, y[i]);
      nearest2 = hn::Min(nearest2, hn::MulAdd(qx, qx, hn::Mul(qy, qy)));
      turn[i] = hn::Sub(hn::Mul(x[i], y[j]), hn::Mul(y[i], x[j]));
    }
    const Vector zero = hn::Zero(tag);
    const Vector least = hn::Min(turn[0], hn::Min(turn[1], turn[2]));
    const Vector most = hn::Max(turn[0], hn::Max(turn[1], turn[2]));
    const auto pierced = hn::Or(hn::Ge(least, zero), hn::Le(most, zero));
    Vector distance = hn::IfThenZeroElse(pierced, hn::Sqrt(nearest2));
    const Vector z_low = hn::Min(z[0], hn::Min(z[1], z[2]));
    const Vector z_high = hn::Max(z[0], hn::Max(z[1], z[2]));
    const auto beyond = hn::Or(hn::Lt(z_high, hn::Set(tag, -radius)),
                               hn::Gt(z_low, hn::Set(tag, probe.length + radius)));
    distance =
        hn::IfThenElse(beyond, hn::Set(tag, std::numeric_limits<float>::infinity()), distance);
    hn::Store(distance, tag, bound + lane);
  }
}

struct Entry {
  std::uint32_t child;
  float along;
};

void Walk(const Layout& layout, const Probe& probe, double below, Visitor& visitor) {
  if (layout.nodes.empty()) return;
  // Eight children a level, at most 80 levels (tree_build.cpp).
  Entry stack[kWidth * 80];
  int top = 0;
  const auto reach_of = [&](double bound) {
    return static_cast<float>(std::min(bound, 1e30)) + probe.greatest_radius + probe.slack;
  };
  float radius = reach_of(below);
  stack[top++] = {0, 0};
  alignas(32) float entry[kWidth];
  while (top > 0) {
    const Entry next = stack[--top];
    if ((next.child & kBlockBit) == 0) {
      const Node& node = layout.nodes[next.child];
      std::uint32_t met = meet_boxes(node, probe, radius, entry);
      const int first = top;
      while (met != 0) {
        const int lane = __builtin_ctz(met);
        met &= met - 1;
        // Insertion keeps the nearest on top.
        int at = top++;
        for (; at > first && stack[at - 1].along < entry[lane]; --at) stack[at] = stack[at - 1];
        stack[at] = {node.child[lane], entry[lane]};
      }
      continue;
    }
    const Block& block = layout.blocks[next.child & ~kBlockBit];
    alignas(32) float bound[kWidth];
    bound_distances(block, probe, radius, bound);
    for (int lane = 0; lane < kWidth; ++lane) {
      if (!(bound[lane] <= radius)) continue;
      if (lane > 0 && block.triangle[lane] == block.triangle[0]) break;  // unused lanes
      below = visitor.visit(block.triangle[lane]);
      if (below == -std::numeric_limits<double>::infinity()) return;
      radius = reach_of(below);
    }
  }
}

}  // namespace HWY_NAMESPACE
}  // namespace standpoint::tree
HWY_AFTER_NAMESPACE();

#if HWY_ONCE
namespace standpoint::tree {

HWY_EXPORT(Walk);

void walk(const Layout& layout, const Probe& probe, double below, Visitor& visitor) {
  HWY_DYNAMIC_DISPATCH(Walk)(layout, probe, below, visitor);
}

Probe make_probe(const Layout& layout, const RoundCone& cone) {
  Probe probe;
  const Vec3 start = cone.start - layout.origin;
  const Vec3 along = cone.end - cone.start;
  const double length = along.norm();
  const Vec3 axis = length > 0 ? Vec3(along / length) : Vec3(Vec3::UnitZ());
  const Vec3 across = any_perpendicular(axis);
  const Vec3 third = axis.cross(across);
  for (int i = 0; i < 3; ++i) {
    probe.start[i] = static_cast<float>(start[i]);
    probe.frame[0][i] = static_cast<float>(across[i]);
    probe.frame[1][i] = static_cast<float>(third[i]);
    probe.frame[2][i] = static_cast<float>(axis[i]);
    // A direction component of nothing would give 0 * inf: the least one moves the axis by less
    // than 1e-12 mm.
    constexpr double kLeast = 1e-18;
    const double d = std::abs(axis[i]) < kLeast ? std::copysign(kLeast, axis[i]) : axis[i];
    probe.inverse[i] = static_cast<float>(1 / d);
  }
  const double reach =
      layout.half_extent +
      std::max(start.cwiseAbs().maxCoeff(), (cone.end - layout.origin).cwiseAbs().maxCoeff());
  probe.slack = static_cast<float>(0x1p-24 * 32 * reach);
  probe.length = static_cast<float>(length) + probe.slack;
  probe.greatest_radius = static_cast<float>(std::max(cone.start_radius, cone.end_radius));
  return probe;
}

}  // namespace standpoint::tree
#endif
