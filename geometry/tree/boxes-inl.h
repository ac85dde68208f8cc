// Included once for every SIMD target (Highway's foreach_target): no ordinary include guard.
#if defined(STANDPOINT_TREE_BOXES_INL) == defined(HWY_TARGET_TOGGLE)
#ifdef STANDPOINT_TREE_BOXES_INL
#undef STANDPOINT_TREE_BOXES_INL
#else
#define STANDPOINT_TREE_BOXES_INL
#endif

#include <hwy/cache_control.h>
#include <hwy/highway.h>

#include <limits>

#include "geometry/tree/layout.h"
#include "geometry/tree/probe.h"

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

/// Eight children a level, at most 80 levels (tree_build.cpp).
constexpr int kStack = kWidth * 80;

/// Greater than any distance in the scene, small enough to be squared.
constexpr double kFarthest = 1e16;

/// Walks that take turns: while one waits for the memory of its next step, others go on.
constexpr int kAtOnce = 16;

/// Asks for a child's memory before its turn comes. Most of a walk in a large scene is waiting for
/// memory.
HWY_INLINE void prefetch(const Layout& layout, std::uint32_t child) {
  const bool is_block = (child & kBlockBit) != 0;
  const char* at = is_block
                       ? reinterpret_cast<const char*>(layout.blocks.data() + (child & ~kBlockBit))
                       : reinterpret_cast<const char*>(layout.nodes.data() + child);
  constexpr std::size_t kLine = 64;  // bytes of a line of the processor's cache
  static_assert(sizeof(Node) == 4 * kLine && sizeof(Block) == 5 * kLine);
  for (std::size_t line = 0; line < 4; ++line) hwy::Prefetch(at + kLine * line);
  if (is_block) hwy::Prefetch(at + sizeof(Block) - 1);
}

/// The probe's axis, widened by a radius, in the form that meets boxes with six multiply-adds: a
/// plane at coordinate c is passed at t = c * inverse + near (or far).
struct Tube {
  float inverse[3];
  float near_plane[3], far_plane[3];
  std::size_t near_side[3];  ///< 0: a box is entered through its low side, 3: its high side
  float from = 0;            ///< the part of the axis that matters
  float to = 0;

  Tube() = default;
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
