#include "geometry/tree_kernel.h"

#include <algorithm>
#include <cmath>
#include <limits>

#undef HWY_TARGET_INCLUDE
#define HWY_TARGET_INCLUDE "geometry/tree_kernel.cpp"
#include <hwy/foreach_target.h>
//
#include <hwy/cache_control.h>
#include <hwy/highway.h>

#include "geometry/tree_simd-inl.h"

HWY_BEFORE_NAMESPACE();
namespace standpoint::tree {
namespace HWY_NAMESPACE {

/// Eight children a level, at most 80 levels (tree_build.cpp).
constexpr int kStack = kWidth * 80;

/// Greater than any distance in the scene, small enough to be squared.
constexpr double kFarthest = 1e16;

/// Asks for a child's memory before its turn comes. Most of a walk in a large scene is waiting for
/// memory.
HWY_INLINE void prefetch(const Layout& layout, std::uint32_t child) {
  const bool is_block = (child & kBlockBit) != 0;
  const char* at = is_block
                       ? reinterpret_cast<const char*>(layout.blocks.data() + (child & ~kBlockBit))
                       : reinterpret_cast<const char*>(layout.nodes.data() + child);
  for (int line = 0; line < 4; ++line) hwy::Prefetch(at + 64 * line);
}

bool IsBlocked(const Layout& layout, const Probe& probe, double threshold, float sure_radius,
               const RoundCone& cone, std::uint32_t& hint) {
  const float radius =
      static_cast<float>(std::min(threshold, kFarthest)) + probe.greatest_radius + probe.slack;
  if (layout.nodes.empty() || radius < 0) return false;
  const auto blocks = [&](std::uint32_t at) HWY_ATTR {
    const Block& block = layout.blocks[at];
    Verdicts verdicts = look_at_block(block, probe, radius, sure_radius);
    if (verdicts.sure != 0) return true;
    for (; verdicts.maybe != 0; verdicts.maybe &= verdicts.maybe - 1) {
      const std::uint32_t triangle = block.triangle[__builtin_ctz(verdicts.maybe)];
      if (nearest_on_triangle(cone, layout.corners(triangle)).margin < threshold) return true;
    }
    return false;
  };
  if (hint < layout.blocks.size() && blocks(hint)) return true;
  const Tube tube(probe, radius);
  std::uint32_t stack[kStack];
  int top = 0;
  std::uint32_t next = 0;
  alignas(64) float entry[kWidth];
  for (;;) {
    if ((next & kBlockBit) == 0) {
      const Node& node = layout.nodes[next];
      std::uint32_t met = meet_boxes(node, tube, entry);
      if (met != 0) {
        int best = __builtin_ctz(met);
        met &= met - 1;
        while (met != 0) {
          const int lane = __builtin_ctz(met);
          met &= met - 1;
          const bool is_nearer = entry[lane] < entry[best];
          const std::uint32_t later = node.child[is_nearer ? best : lane];
          prefetch(layout, later);
          stack[top++] = later;
          best = is_nearer ? lane : best;
        }
        next = node.child[best];
        continue;
      }
    } else if (blocks(next & ~kBlockBit)) {
      hint = next & ~kBlockBit;
      return true;
    }
    if (top == 0) return false;
    next = stack[--top];
  }
}

/// The search for the least margin. Float bounds narrow it; triangles that the bounds cannot tell
/// apart wait, and only those still in question at the end are looked at in double.
class NearestSearch {
 public:
  NearestSearch(const Layout& layout, const Probe& probe, const RoundCone& cone, double below)
      : layout_(layout),
        probe_(probe),
        cone_(cone),
        asked_(below),
        below_(static_cast<float>(std::min(below, kFarthest))) {
    if (below_ < below) below_ = std::nextafter(below_, std::numeric_limits<float>::infinity());
  }

  [[nodiscard]] float radius() const { return below_ + probe_.greatest_radius + probe_.slack; }

  /// Narrows the part of the axis where a margin below the bound is possible (docs/beam.md, eq. 8).
  void narrow(Tube& tube) const {
    const float room = below_ + probe_.start_radius + probe_.slack;
    if (probe_.slope > 0) tube.from = std::clamp(-room / probe_.slope, 0.0f, probe_.length);
    if (probe_.slope < 0) tube.to = std::clamp(room / -probe_.slope, 0.0f, tube.to);
  }

  /// True when the bound fell.
  HWY_INLINE bool look_at(const Block& block) {
    alignas(64) float lower[kWidth], upper[kWidth];
    bound_margins(block, probe_, lower, upper);
    const float before = below_;
    for (int lane = 0; lane < kWidth; ++lane) below_ = std::min(below_, upper[lane]);
    for (int lane = 0; lane < kWidth; ++lane) {
      if (!(lower[lane] <= below_)) continue;
      if (waiting_ == kWaiting || upper[lane] - lower[lane] > 8 * probe_.slack) {
        measure(block.triangle[lane]);
      } else {
        waiting_list_[waiting_++] = {lower[lane], block.triangle[lane]};
      }
      if (waiting_ == kWaiting) drain();
    }
    return below_ < before;
  }

  /// Only the bound: nothing is remembered.
  HWY_INLINE void look_ahead(const Block& block) {
    alignas(64) float lower[kWidth], upper[kWidth];
    bound_margins(block, probe_, lower, upper);
    for (int lane = 0; lane < kWidth; ++lane) below_ = std::min(below_, upper[lane]);
  }

  [[nodiscard]] std::optional<Found> finish() {
    drain();
    return found_;
  }

 private:
  static constexpr int kWaiting = 32;
  struct Waiting {
    float lower;
    std::uint32_t triangle;
  };

  void measure(std::uint32_t triangle) {
    const Nearest nearest = nearest_on_triangle(cone_, layout_.corners(triangle));
    if (!(nearest.margin < asked_)) return;
    if (found_ && (nearest.margin > found_->nearest.margin ||
                   (nearest.margin == found_->nearest.margin && triangle > found_->triangle))) {
      return;
    }
    found_ = Found{nearest, triangle};
    // Rounded up, so that equal margins are still looked at.
    const auto bound = static_cast<float>(nearest.margin) + probe_.slack;
    below_ = std::min(below_, bound);
  }
  void drain() {
    for (int i = 0; i < waiting_; ++i) {
      if (waiting_list_[i].lower <= below_) measure(waiting_list_[i].triangle);
    }
    waiting_ = 0;
  }

  const Layout& layout_;
  const Probe& probe_;
  const RoundCone& cone_;
  double asked_;
  float below_;
  std::optional<Found> found_;
  int waiting_ = 0;
  Waiting waiting_list_[kWaiting];
};

/// Goes straight down to a block near the probe's start, for a first bound.
void look_ahead(const Layout& layout, const Probe& probe, NearestSearch& search) {
  std::uint32_t next = 0;
  while ((next & kBlockBit) == 0) {
    const Node& node = layout.nodes[next];
    next = node.child[nearest_box(node, probe)];
  }
  search.look_ahead(layout.blocks[next & ~kBlockBit]);
}

std::optional<Found> FindNearest(const Layout& layout, const Probe& probe, const RoundCone& cone,
                                 double below) {
  if (layout.nodes.empty()) return std::nullopt;
  struct Entry {
    std::uint32_t child;
    float along;
  };
  NearestSearch search(layout, probe, cone, below);
  look_ahead(layout, probe, search);
  if (search.radius() < 0) return std::nullopt;
  Tube tube(probe, search.radius());
  search.narrow(tube);
  Entry stack[kStack];
  int top = 0;
  stack[top++] = {0, 0};
  alignas(64) float entry[kWidth];
  while (top > 0) {
    const Entry next = stack[--top];
    if (next.along > tube.to) continue;
    if ((next.child & kBlockBit) != 0) {
      if (search.look_at(layout.blocks[next.child & ~kBlockBit])) {
        tube.widen(probe, search.radius());
        search.narrow(tube);
      }
      continue;
    }
    const Node& node = layout.nodes[next.child];
    std::uint32_t met = meet_boxes(node, tube, entry);
    const int first = top;
    for (; met != 0; met &= met - 1) {
      const int lane = __builtin_ctz(met);
      // Insertion keeps the nearest on top.
      int at = top++;
      for (; at > first && stack[at - 1].along < entry[lane]; --at) stack[at] = stack[at - 1];
      stack[at] = {node.child[lane], entry[lane]};
    }
  }
  return search.finish();
}

void VisitWithin(const Layout& layout, const Probe& probe, double below, Visitor& visitor) {
  const float radius =
      static_cast<float>(std::min(below, kFarthest)) + probe.greatest_radius + probe.slack;
  if (layout.nodes.empty() || radius < 0) return;
  const Tube tube(probe, radius);
  std::uint32_t stack[kStack];
  int top = 0;
  stack[top++] = 0;
  alignas(64) float entry[kWidth];
  while (top > 0) {
    const std::uint32_t next = stack[--top];
    if ((next & kBlockBit) == 0) {
      const Node& node = layout.nodes[next];
      for (std::uint32_t met = meet_boxes(node, tube, entry); met != 0; met &= met - 1) {
        stack[top++] = node.child[__builtin_ctz(met)];
      }
      continue;
    }
    const Block& block = layout.blocks[next & ~kBlockBit];
    std::uint32_t maybe = look_at_block(block, probe, radius, -1).maybe;
    for (; maybe != 0; maybe &= maybe - 1) visitor.visit(block.triangle[__builtin_ctz(maybe)]);
  }
}

}  // namespace HWY_NAMESPACE
}  // namespace standpoint::tree
HWY_AFTER_NAMESPACE();

#if HWY_ONCE
namespace standpoint::tree {

HWY_EXPORT(IsBlocked);
HWY_EXPORT(FindNearest);
HWY_EXPORT(VisitWithin);

bool is_blocked(const Layout& layout, const RoundCone& cone, double margin, double error,
                std::uint32_t& block) {
  // From the target: what stands in a beam mostly stands near its target.
  const Probe probe = make_probe(layout, cone, true);
  // What is this near to the axis between its ends has at most the margin asked for, whatever the
  // radius there: in double it would be found less than margin + error.
  const double sure_radius =
      std::min(margin + std::min(cone.start_radius, cone.end_radius), 1e9) - probe.slack;
  return HWY_DYNAMIC_DISPATCH(IsBlocked)(layout, probe, margin + error,
                                         static_cast<float>(sure_radius), cone, block);
}

std::optional<Found> find_nearest(const Layout& layout, const RoundCone& cone, double below) {
  // From the wider end: the radius there bounds what the rest can still give.
  const Probe probe = make_probe(layout, cone, cone.end_radius >= cone.start_radius);
  return HWY_DYNAMIC_DISPATCH(FindNearest)(layout, probe, cone, below);
}

void visit_within(const Layout& layout, const RoundCone& cone, double below, Visitor& visitor) {
  HWY_DYNAMIC_DISPATCH(VisitWithin)(layout, make_probe(layout, cone, false), below, visitor);
}

}  // namespace standpoint::tree
#endif
