#include "geometry/tree/kernel.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#undef HWY_TARGET_INCLUDE
#define HWY_TARGET_INCLUDE "geometry/tree/nearest.cpp"
#include <hwy/foreach_target.h>
//
#include <hwy/cache_control.h>
#include <hwy/highway.h>

#include "geometry/tree/boxes-inl.h"
#include "geometry/tree/triangles-inl.h"

HWY_BEFORE_NAMESPACE();
namespace standpoint::tree {
namespace HWY_NAMESPACE {

/// The search for the least margin. Float bounds narrow it; triangles that the bounds cannot tell
/// apart wait, and only those still in question at the end are looked at in double.
class NearestSearch {
 public:
  void begin(const Layout& layout, const Probe& probe, const NearestQuery& query) {
    layout_ = &layout;
    probe_ = &probe;
    cone_ = query.cone;
    asked_ = query.below;
    below_ = static_cast<float>(std::min(asked_, kFarthest));
    if (below_ < asked_) below_ = std::nextafter(below_, std::numeric_limits<float>::infinity());
    found_.reset();
    waiting_ = 0;
    is_urgent_ = false;
  }

  [[nodiscard]] float radius() const { return below_ + probe_->greatest_radius + probe_->slack; }

  /// Narrows the part of the axis where a margin below the bound is possible (docs/beam.md, eq. 8).
  void narrow(Tube& tube) const {
    const float room = below_ + probe_->start_radius + probe_->slack;
    if (probe_->slope > 0) tube.from = std::clamp(-room / probe_->slope, 0.0f, probe_->length);
    if (probe_->slope < 0) tube.to = std::clamp(room / -probe_->slope, 0.0f, tube.to);
  }

  /// True when the bound fell.
  HWY_INLINE bool look_at(const Block& block) {
    alignas(64) float lower[kWidth], upper[kWidth];
    const float before = below_;
    std::uint32_t in_question = bound_margins(block, *probe_, below_, lower, upper);
    for (; in_question != 0; in_question &= in_question - 1) {
      const int lane = __builtin_ctz(in_question);
      if (waiting_ == kWaiting) measure_waiting();
      waiting_list_[waiting_++] = {lower[lane], block.triangle[lane]};
      is_urgent_ = is_urgent_ || upper[lane] - lower[lane] > 8 * probe_->slack;
    }
    return below_ < before;
  }

  /// Whether something waits whose margin in double may lower the bound by much.
  [[nodiscard]] bool is_urgent() const { return is_urgent_; }

  /// Looks in double at what is still in question, the likeliest first.
  void measure_waiting() {
    std::sort(waiting_list_, waiting_list_ + waiting_,
              [](const Waiting& a, const Waiting& b) { return a.lower < b.lower; });
    for (int i = 0; i < waiting_ && waiting_list_[i].lower <= below_; ++i)
      measure(waiting_list_[i].triangle);
    waiting_ = 0;
    is_urgent_ = false;
  }

  /// Only the bound: nothing is remembered.
  HWY_INLINE void look_ahead(const Block& block) {
    alignas(64) float lower[kWidth], upper[kWidth];
    (void)bound_margins(block, *probe_, below_, lower, upper);
  }

  /// Asks for the memory of what waits: first which corners, then the corners themselves.
  void prefetch_triangles() const {
    for (int i = 0; i < waiting_; ++i) hwy::Prefetch(&triangle(i));
  }
  void prefetch_corners() const {
    for (int i = 0; i < waiting_; ++i) {
      const Mesh& mesh = *layout_->bodies[layout_->body_of(waiting_list_[i].triangle).index];
      for (const std::uint32_t corner : triangle(i)) hwy::Prefetch(&mesh.vertices[corner]);
    }
  }

  [[nodiscard]] const std::optional<Found>& found() const { return found_; }

 private:
  static constexpr int kWaiting = 32;
  struct Waiting {
    float lower;
    std::uint32_t triangle;
  };

  [[nodiscard]] const std::array<std::uint32_t, 3>& triangle(int waiting) const {
    const std::uint32_t number = waiting_list_[waiting].triangle;
    const BodyId body = layout_->body_of(number);
    return layout_->bodies[body.index]->triangles[layout_->in_body(number, body).index];
  }

  void measure(std::uint32_t triangle) {
    // Of a triangle that shares the nearest corner or edge with one measured before only that is
    // looked at in full.
    const double limit = found_ ? found_->nearest.margin : asked_;
    const Nearest nearest = nearest_if_at_most(*cone_, layout_->corners(triangle), limit);
    if (!(nearest.margin < asked_)) return;
    if (found_ && (nearest.margin > found_->nearest.margin ||
                   (nearest.margin == found_->nearest.margin && triangle > found_->triangle))) {
      return;
    }
    found_ = Found{nearest, triangle};
    // Rounded up, so that equal margins are still looked at.
    const auto bound = static_cast<float>(nearest.margin) + probe_->slack;
    below_ = std::min(below_, bound);
  }
  const Layout* layout_ = nullptr;
  const Probe* probe_ = nullptr;
  const RoundCone* cone_ = nullptr;
  double asked_ = 0;
  float below_ = 0;
  std::optional<Found> found_;
  int waiting_ = 0;
  bool is_urgent_ = false;
  Waiting waiting_list_[kWaiting];
};

/// A search for the least margin, on its way. First straight down to a block near the probe's
/// start, for a first bound; then through all that the bound leaves; then the few in question in
/// double.
class NearestWalk {
 public:
  // NOLINTNEXTLINE(cppcoreguidelines-pro-type-member-init)
  NearestWalk() {}
  NearestWalk(const NearestWalk&) = delete;  // the search points at the probe
  NearestWalk& operator=(const NearestWalk&) = delete;

  void begin(const Layout& layout, const NearestQuery& query, std::size_t number) {
    // From the wider end: the radius there bounds what the rest can still give.
    const RoundCone& cone = *query.cone;
    probe_ = make_probe(layout, cone, cone.end_radius >= cone.start_radius);
    layout_ = &layout;
    search_.begin(layout, probe_, query);
    number_ = number;
    stage_ = layout.nodes.empty() ? Stage::measure : Stage::ahead;  // nothing waits
    next_ = 0;
    top_ = 0;
  }

  /// Takes one step and asks for the memory of the next; false when all is done.
  HWY_INLINE bool step() {
    switch (stage_) {
      case Stage::ahead:
        step_ahead();
        return true;
      case Stage::down:
        step_down();
        return true;
      case Stage::fetch:
        search_.prefetch_corners();
        stage_ = Stage::measure;
        return true;
      case Stage::measure:
        search_.measure_waiting();
        tighten();
        return finds_next();
    }
    return false;
  }

  [[nodiscard]] std::size_t number() const { return number_; }
  [[nodiscard]] const std::optional<Found>& found() const { return search_.found(); }

 private:
  enum class Stage { ahead, down, fetch, measure };
  struct Entry {
    std::uint32_t child;
    float along;
  };

  HWY_INLINE void step_ahead() {
    if ((next_ & kBlockBit) == 0) {
      const Node& node = layout_->nodes[next_];
      next_ = node.child[nearest_box(node, probe_)];
      prefetch(*layout_, next_);
      return;
    }
    search_.look_ahead(layout_->blocks[next_ & ~kBlockBit]);
    if (search_.radius() < 0) {
      stage_ = Stage::measure;  // nothing waits
      return;
    }
    tube_ = Tube(probe_, search_.radius());
    search_.narrow(tube_);
    next_ = 0;
    stage_ = Stage::down;
  }

  HWY_INLINE void step_down() {
    if ((next_ & kBlockBit) != 0) {
      if (search_.look_at(layout_->blocks[next_ & ~kBlockBit])) tighten();
    } else {
      const Node& node = layout_->nodes[next_];
      alignas(64) float entry[kWidth];
      std::uint32_t met = meet_boxes(node, tube_, entry);
      const int first = top_;
      for (; met != 0; met &= met - 1) {
        const int lane = __builtin_ctz(met);
        // Insertion keeps the nearest on top.
        int at = top_++;
        for (; at > first && stack_[at - 1].along < entry[lane]; --at) stack_[at] = stack_[at - 1];
        stack_[at] = {node.child[lane], entry[lane]};
      }
    }
    if (!search_.is_urgent() && finds_next()) return;
    search_.prefetch_triangles();
    stage_ = Stage::fetch;
  }

  void tighten() {
    tube_.widen(probe_, search_.radius());
    search_.narrow(tube_);
  }

  /// Takes the next from the stack that still matters.
  HWY_INLINE bool finds_next() {
    while (top_ > 0) {
      const Entry entry = stack_[--top_];
      if (entry.along > tube_.to) continue;
      next_ = entry.child;
      prefetch(*layout_, next_);
      stage_ = Stage::down;
      return true;
    }
    return false;
  }

  Probe probe_;
  Tube tube_;
  const Layout* layout_ = nullptr;
  NearestSearch search_;
  std::size_t number_ = 0;
  Stage stage_ = Stage::ahead;
  std::uint32_t next_ = 0;
  int top_ = 0;
  Entry stack_[kStack];  // not initialised: only what lies below `top_` is read
};

std::optional<Found> FindNearest(const Layout& layout, const NearestQuery& query) {
  NearestWalk walk;
  walk.begin(layout, query, 0);
  while (walk.step()) {
  }
  return walk.found();
}

void FindEachNearest(const Layout& layout, std::span<const NearestQuery> queries,
                     std::vector<std::optional<Found>>& found) {
  std::array<NearestWalk, kAtOnce> walks;
  std::array<bool, kAtOnce> goes{};
  std::size_t begun = 0, done = 0;
  for (std::size_t i = 0; i < walks.size() && begun < queries.size(); ++i, ++begun) {
    walks[i].begin(layout, queries[begun], begun);
    goes[i] = true;
  }
  while (done < queries.size()) {
    for (std::size_t i = 0; i < walks.size(); ++i) {
      NearestWalk& walk = walks[i];
      if (!goes[i] || walk.step()) continue;
      found[walk.number()] = walk.found();
      ++done;
      goes[i] = begun < queries.size();
      if (!goes[i]) continue;
      walk.begin(layout, queries[begun], begun);
      ++begun;
    }
  }
}

bool AnyWithin(const Layout& layout, const Probe& probe, double below, Visitor& visitor) {
  const Radii radii(probe, static_cast<float>(std::min(below, kFarthest)));
  if (layout.nodes.empty() || radii.greatest < 0) return false;
  const Tube tube(probe, radii.greatest);
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
    std::uint32_t maybe = look_at_block(block, probe, radii, -1).maybe;
    for (; maybe != 0; maybe &= maybe - 1) {
      if (visitor.visit(block.triangle[__builtin_ctz(maybe)])) return true;
    }
  }
  return false;
}

}  // namespace HWY_NAMESPACE
}  // namespace standpoint::tree
HWY_AFTER_NAMESPACE();

#if HWY_ONCE
namespace standpoint::tree {

HWY_EXPORT(FindNearest);
HWY_EXPORT(FindEachNearest);
HWY_EXPORT(AnyWithin);

std::optional<Found> find_nearest(const Layout& layout, const NearestQuery& query) {
  return HWY_DYNAMIC_DISPATCH(FindNearest)(layout, query);
}

std::vector<std::optional<Found>> find_each_nearest(const Layout& layout,
                                                    std::span<const NearestQuery> queries) {
  std::vector<std::optional<Found>> found(queries.size());
  HWY_DYNAMIC_DISPATCH(FindEachNearest)(layout, queries, found);
  return found;
}

bool any_within(const Layout& layout, const RoundCone& cone, double below, Visitor& visitor) {
  return HWY_DYNAMIC_DISPATCH(AnyWithin)(layout, make_probe(layout, cone, false), below, visitor);
}

}  // namespace standpoint::tree
#endif
