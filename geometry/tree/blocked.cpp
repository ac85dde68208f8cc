#include "geometry/tree/kernel.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#undef HWY_TARGET_INCLUDE
#define HWY_TARGET_INCLUDE "geometry/tree/blocked.cpp"
#include <hwy/foreach_target.h>
//
#include <hwy/cache_control.h>
#include <hwy/highway.h>

#include "geometry/tree/boxes-inl.h"
#include "geometry/tree/triangles-inl.h"

HWY_BEFORE_NAMESPACE();
namespace standpoint::tree {
namespace HWY_NAMESPACE {

/// A question whether something stands in a beam, on its way down the tree.
struct Walk {
  Probe probe;
  Tube tube;
  const RoundCone* cone = nullptr;
  double threshold = 0;    ///< a margin below it blocks, as computed in double
  double clear_from = 0;   ///< a true margin from here on is surely computed as no less
  Radii radii;             ///< what is farther from the axis cannot block
  float sure_radius = 0;   ///< what is surely nearer does
  float surely_below = 0;  ///< a margin whose bound in float is below this blocks,
  float maybe_below = 0;   ///< and only one whose bound is below this can
  std::size_t number = 0;
  std::uint32_t next = 0;
  int top = 0;
  std::uint32_t stack[kStack];  // not initialised: only what lies below `top` is read

  // NOLINTNEXTLINE(cppcoreguidelines-pro-type-member-init)
  Walk() {}

  /// Returns false where nothing can be in the way.
  bool begin(const Layout& layout, const BeamQuery& query) {
    // From the target: what stands in a beam mostly stands near its target.
    probe = make_probe(layout, *query.cone, true);
    cone = query.cone;
    threshold = query.margin + query.error;
    clear_from = threshold + query.error;
    radii = Radii(probe, static_cast<float>(std::min(threshold, kFarthest)));
    // What is this near to the axis between its ends has at most the margin asked for, whatever
    // the radius there: in double it would be found less than margin + error.
    const double least = std::min(cone->start_radius, cone->end_radius);
    sure_radius = static_cast<float>(std::min(query.margin + least, 1e9) - probe.slack);
    const auto rounded = static_cast<float>(std::min(threshold, kFarthest));
    surely_below = rounded - probe.slack;
    maybe_below = rounded + probe.slack;
    tube = Tube(probe, radii.greatest);
    next = 0;
    top = 0;
    return !layout.nodes.empty() && radii.greatest >= 0;
  }
};

/// Decides triangles that their outlines leave undecided, mostly near the ends and where the radius
/// changes much. Bounds in float tell most. A body that a stylus rests on is nearer than they can
/// tell; there its plane does, in double. Rare: kept out of the walk's own loop.
HWY_NOINLINE bool any_blocks(const Layout& layout, const Walk& walk, const Block& block,
                             std::uint32_t undecided) {
  alignas(64) float lower[kWidth], upper[kWidth];
  float least_upper = walk.maybe_below;
  undecided &= bound_margins(block, walk.probe, least_upper, lower, upper);
  if (least_upper < walk.surely_below) return true;
  if (undecided != 0 && any_end_within(block, walk.probe, walk.surely_below, undecided)) {
    return true;
  }
  for (; undecided != 0; undecided &= undecided - 1) {
    const std::array<Vec3, 3> corners = layout.corners(block.triangle[__builtin_ctz(undecided)]);
    if (is_surely_beyond_plane(*walk.cone, corners, walk.clear_from)) continue;
    if (nearest_on_triangle(*walk.cone, corners).margin < walk.threshold) return true;
  }
  return false;
}

HWY_INLINE bool blocks(const Layout& layout, const Walk& walk, const Block& block) {
  const Verdicts verdicts = look_at_block(block, walk.probe, walk.radii, walk.sure_radius);
  if (verdicts.sure != 0) return true;
  return verdicts.maybe != 0 && any_blocks(layout, walk, block, verdicts.maybe);
}

enum class Step { goes_on, blocked, clear };

/// Looks into `walk.next` and sets it to what comes next, the nearest child first; where it is a
/// block that blocks, it stays.
HWY_INLINE Step step(const Layout& layout, Walk& walk) {
  if ((walk.next & kBlockBit) == 0) {
    const Node& node = layout.nodes[walk.next];
    alignas(64) float entry[kWidth];
    std::uint32_t met = meet_boxes(node, walk.tube, entry);
    if (met != 0) {
      int best = __builtin_ctz(met);
      met &= met - 1;
      while (met != 0) {
        const int lane = __builtin_ctz(met);
        met &= met - 1;
        const bool is_nearer = entry[lane] < entry[best];
        const std::uint32_t later = node.child[is_nearer ? best : lane];
        prefetch(layout, later);
        walk.stack[walk.top++] = later;
        best = is_nearer ? lane : best;
      }
      walk.next = node.child[best];
      return Step::goes_on;
    }
  } else if (blocks(layout, walk, layout.blocks[walk.next & ~kBlockBit])) {
    return Step::blocked;
  }
  if (walk.top == 0) return Step::clear;
  walk.next = walk.stack[--walk.top];
  return Step::goes_on;
}

bool IsBlocked(const Layout& layout, const BeamQuery& query, std::uint32_t& hint) {
  Walk walk;
  if (!walk.begin(layout, query)) return false;
  if (hint < layout.blocks.size() && blocks(layout, walk, layout.blocks[hint])) return true;
  Step result = Step::goes_on;
  while (result == Step::goes_on) result = step(layout, walk);
  if (result == Step::blocked) hint = walk.next & ~kBlockBit;
  return result == Step::blocked;
}

void AreBlocked(const Layout& layout, std::span<const BeamQuery> queries, bool last_first,
                std::vector<bool>& blocked) {
  std::array<Walk, kAtOnce> walks;
  std::size_t begun = 0;
  std::uint32_t last_blocker = kNoChild;
  // Sets a walk going on the next query that needs one; false where there is none left.
  const auto begin = [&](Walk& walk) HWY_ATTR {
    while (begun < queries.size()) {
      walk.number = begun++;
      if (!walk.begin(layout, queries[walk.number])) continue;
      if (last_first && last_blocker != kNoChild) {
        walk.stack[walk.top++] = walk.next;
        walk.next = last_blocker;
      }
      return true;
    }
    return false;
  };
  int going = 0;
  while (going < kAtOnce && begin(walks[going])) ++going;
  while (going > 0) {
    for (int i = 0; i < going;) {
      Walk& walk = walks[i];
      const Step result = step(layout, walk);
      if (result == Step::goes_on) {
        prefetch(layout, walk.next);
        ++i;
        continue;
      }
      blocked[walk.number] = result == Step::blocked;
      if (result == Step::blocked) last_blocker = walk.next;
      if (begin(walk)) continue;
      --going;
      if (i != going) walk = walks[going];
    }
  }
}

}  // namespace HWY_NAMESPACE
}  // namespace standpoint::tree
HWY_AFTER_NAMESPACE();

#if HWY_ONCE
namespace standpoint::tree {

HWY_EXPORT(IsBlocked);
HWY_EXPORT(AreBlocked);

bool is_blocked(const Layout& layout, const BeamQuery& query, std::uint32_t& block) {
  return HWY_DYNAMIC_DISPATCH(IsBlocked)(layout, query, block);
}

std::vector<bool> are_blocked(const Layout& layout, std::span<const BeamQuery> queries,
                              bool last_first) {
  std::vector<bool> blocked(queries.size(), false);
  HWY_DYNAMIC_DISPATCH(AreBlocked)(layout, queries, last_first, blocked);
  return blocked;
}

}  // namespace standpoint::tree
#endif
