#include "planner/reach/two_ball_stylus.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "geometry/tolerances.h"
#include "planner/reach/beam.h"

namespace standpoint {
namespace {

/// Patches of 30 degrees and more are never hidden by one triangle worth the asking.
constexpr int kCoarsestShadow = 2;
/// In the finest patches but one, the search for a shadow costs as much as the four beams.
constexpr int kFinestShadow = DirectionPatch::kFinestLevel - 2;
/// After so many patches of one level without a shadow the others are not searched: what stands in
/// the way is made of small triangles.
constexpr int kMostInVain = 12;

/// The finest patch at the middle of a coarser one.
std::uint32_t finest_at_middle(const DirectionPatch& patch) {
  const int down = DirectionPatch::kFinestLevel - patch.level;
  DirectionPatch finest = patch;
  finest.level = DirectionPatch::kFinestLevel;
  finest.i = static_cast<std::uint16_t>((2 * patch.i + 1) << down >> 1);
  finest.j = static_cast<std::uint16_t>((2 * patch.j + 1) << down >> 1);
  return finest.index();
}

/// How far a stylus got through the rules, the later the farther: for telling the nearest miss.
int progress_of(Rule rule) {
  switch (rule) {
    case Rule::out_of_range:
    case Rule::elevation:
      return 0;
    case Rule::acceptance:
      return 1;
    case Rule::shank:
    case Rule::head:
      return 2;
    default:
      return 3;
  }
}

}  // namespace

TwoBallStylusAt::TwoBallStylusAt(const Cell& cell, TargetId target, const Place& place)
    : cell_(&cell),
      target_(target),
      stylus_(&std::get<TwoBallStylus>(offset_stylus(cell.scene(), target))),
      place_(place),
      room_(cell, place.optical_centre, stylus_->shank, stylus_->ball_distances[1],
            {stylus_->ball_distances[0], stylus_->ball_distances[1]}, stylus_->ball_radius) {
  if (!place.is_nest) misfit_ = fit_fails(cell, place.optical_centre, stylus_->shank.tip_radius);
}

TwoBallView TwoBallStylusAt::view_from(const Vec3& station) const {
  return {cell_->scene().instrument, *stylus_, place_.optical_centre, station};
}

/// Whether the tip is so far out of range that no ball on the rod can be within it.
bool TwoBallStylusAt::is_hopeless(const Vec3& station) const {
  const double distance = (place_.optical_centre - station).norm();
  const Interval& range = cell_->scene().instrument.range;
  return distance - stylus_->ball_distances[0] > range.high ||
         distance + stylus_->ball_distances[0] < range.low;
}

bool TwoBallStylusAt::is_clear(const TwoBallView& view, const Vec3& direction, double margin) {
  for (const std::size_t ball : {first_tried_, 1 - first_tried_}) {
    if (!cell_->tree().is_clear(view.beam(ball, direction), margin, &hints_[ball])) {
      first_tried_ = ball;
      return false;
    }
  }
  return true;
}

double TwoBallStylusAt::margin_of_beams(const TwoBallView& view, const Vec3& direction) const {
  const double first = margin_of(*cell_, view.beam(0, direction));
  // Of the second only a smaller one counts.
  const auto second = cell_->tree().nearest(view.beam(1, direction), first);
  return second ? second->nearest.margin : first;
}

bool TwoBallStylusAt::reaches_held(const TwoBallView& view, std::uint32_t finest_index) {
  const Vec3& direction = finest_directions()[finest_index];
  return !view.rule_that_fails(direction) && room_.is_free(finest_index) &&
         is_clear(view, direction, cell_->scene().rules.min_margin);
}

/// One walk over the patches of directions, as one station sees them.
struct TwoBallStylusAt::Search {
  const TwoBallView& view;
  const Visit& visit;
  std::array<ShadowSearch, 2> shadows;  ///< by ball
  /// How many patches of each level were tried for a shadow in vain, one after the other.
  std::array<int, DirectionPatch::kFinestLevel + 1> in_vain{};
};

/// Whether one triangle hides either ball in all directions of the patch.
bool TwoBallStylusAt::is_in_shadow(const DirectionPatch& patch, Search& search) {
  int& in_vain = search.in_vain[patch.level];
  const bool is_worth_a_search = patch.level <= kFinestShadow && in_vain < kMostInVain;
  for (const std::size_t ball : {first_tried_, 1 - first_tried_}) {
    ShadowSearch& shadows = search.shadows[ball];
    if (!is_worth_a_search && shadows.knows_none()) continue;
    const auto bundle = search.view.bundle(ball, patch);
    if (!bundle) continue;
    if (shadows.is_known_to_hide(*bundle) ||
        (is_worth_a_search && shadows.finds_one_hiding(*bundle))) {
      in_vain = 0;
      first_tried_ = ball;
      return true;
    }
  }
  ++in_vain;
  return false;
}

bool TwoBallStylusAt::any_below(const DirectionPatch& patch, Search& search) {
  if (patch.level == DirectionPatch::kFinestLevel) {
    const std::uint32_t index = patch.index();
    return !search.view.rule_that_fails(patch.centre()) && room_.is_free(index) &&
           search.visit(index);
  }
  if (!search.view.may_pass(patch) || room_.is_all_blocked(patch)) return false;
  if (patch.level >= kCoarsestShadow && is_in_shadow(patch, search)) return false;
  for (int which = 0; which < 4; ++which) {
    if (any_below(patch.child(which), search)) return true;
  }
  return false;
}

/// Visits all directions in which the stylus can be held and passes the rules, less those whose
/// beams are surely not clear.
bool TwoBallStylusAt::any_held(const Vec3& station, const TwoBallView& view, const Visit& visit) {
  const ShadowSearch shadow(cell_->tree(), station);
  Search search{view, visit, {shadow, shadow}};
  for (std::uint8_t face = 0; face < 6; ++face) {
    if (any_below({face, 0, 0, 0}, search)) return true;
  }
  return false;
}

bool TwoBallStylusAt::reaches(const Vec3& station) {
  if (misfit_ || is_hopeless(station)) return false;
  const TwoBallView view = view_from(station);
  if (last_reaching_ && reaches_held(view, *last_reaching_)) return true;
  const auto reaches_at = [&](std::uint32_t index) {
    if (!reaches_held(view, index)) return false;
    last_reaching_ = index;
    return true;
  };
  // A wide choice of directions is met by one of a few, spread out.
  for (std::uint32_t k = 0; k < DirectionPatch::count_at(kCoarsestShadow); ++k) {
    if (reaches_at(finest_at_middle(DirectionPatch::of_index(kCoarsestShadow, k)))) return true;
  }
  return any_held(station, view, [&](std::uint32_t index) {
    if (!is_clear(view, finest_directions()[index], cell_->scene().rules.min_margin)) return false;
    last_reaching_ = index;
    return true;
  });
}

std::optional<double> TwoBallStylusAt::margin_if_reached(const Vec3& station) {
  if (!reaches(station)) return std::nullopt;
  return best_held(station)->margin;
}

Outcome TwoBallStylusAt::look(const Vec3& station) {
  if (misfit_)
    return body_cause(target_, Rule::no_fit, station, place_.optical_centre, *misfit_,
                      RoundCone::ball(place_.optical_centre, stylus_->shank.tip_radius));
  if (is_hopeless(station)) {
    return plain_cause(target_, Rule::out_of_range, station, place_.optical_centre);
  }
  if (const auto best = best_held(station)) return *best;
  return nearest_miss(station);
}

/// A margin that some direction has to spare: the search for the largest need not climb to it step
/// by step, each a measurement in full. From one direction in sixteen, scattered, so that few steps
/// lead up.
double TwoBallStylusAt::margin_at_least(const TwoBallView& view) {
  constexpr int kLevel = DirectionPatch::kFinestLevel - 2;
  constexpr std::uint32_t kCount = DirectionPatch::count_at(kLevel);
  constexpr std::uint32_t kStride = 617;  // prime to kCount: meets each once
  const double least = cell_->scene().rules.min_margin;
  double most = least;
  for (std::uint32_t k = 0; k < kCount; ++k) {
    const std::uint32_t index =
        finest_at_middle(DirectionPatch::of_index(kLevel, k * kStride % kCount));
    const Vec3& direction = finest_directions()[index];
    if (view.rule_that_fails(direction) || !room_.is_free(index)) continue;
    if (is_clear(view, direction, most)) most = std::max(most, margin_of_beams(view, direction));
  }
  return std::isinf(most) ? least : std::max(least, most - tolerance::kMarginToSpare);
}

/// Of the directions that reach the one with the largest margin, of equal ones the first.
std::optional<Reached> TwoBallStylusAt::best_held(const Vec3& station) {
  const TwoBallView view = view_from(station);
  const double least = margin_at_least(view);
  std::optional<Reached> best;
  (void)any_held(station, view, [&](std::uint32_t index) {
    const Vec3& direction = finest_directions()[index];
    // Only a direction that beats the best so far is measured in full.
    if (!is_clear(view, direction, best ? best->margin : least)) {
      return false;
    }
    const double margin = margin_of_beams(view, direction);
    if (best && margin <= best->margin) return false;
    best = Reached{
        target_, margin, direction, {view.beam(0, direction).end, view.beam(1, direction).end}};
    return std::isinf(margin);
  });
  return best;
}

struct TwoBallStylusAt::Miss {
  Vec3 direction;
  int progress = 0;
  double margin = -std::numeric_limits<double>::infinity();
};

/// How near one direction comes to reaching, where that is nearer than `nearest`; else nothing.
std::optional<TwoBallStylusAt::Miss> TwoBallStylusAt::miss_of(const TwoBallView& view,
                                                              const Vec3& direction,
                                                              const std::optional<Miss>& nearest) {
  const auto if_nearer = [&](const Miss& miss) {
    return !nearest || std::pair(miss.progress, miss.margin) >
                           std::pair(nearest->progress, nearest->margin)
               ? std::optional(miss)
               : std::nullopt;
  };
  if (const auto rule = view.rule_that_fails(direction)) {
    return if_nearer({direction, progress_of(*rule)});
  }
  const int beams = progress_of(Rule::beam);
  const bool is_past_shank = nearest && nearest->progress == beams;
  if (!room_.is_free(direction)) {
    if (is_past_shank) return std::nullopt;
    const auto block = room_.block(direction);
    return if_nearer({direction, progress_of(block->rule), block->contact.nearest.margin});
  }
  if (is_past_shank && !is_clear(view, direction, nearest->margin)) return std::nullopt;
  return if_nearer({direction, beams, margin_of_beams(view, direction)});
}

/// The cause in the direction that gets farthest through the rules, of those the largest margin,
/// over one in sixteen of the directions: enough to tell people what comes nearest.
/// Precondition: no finest direction reaches.
Cause TwoBallStylusAt::nearest_miss(const Vec3& station) {
  constexpr int kLevel = DirectionPatch::kFinestLevel - 2;
  const TwoBallView view = view_from(station);
  std::optional<Miss> nearest;
  for (std::uint32_t k = 0; k < DirectionPatch::count_at(kLevel); ++k) {
    const Vec3& direction =
        finest_directions()[finest_at_middle(DirectionPatch::of_index(kLevel, k))];
    if (const auto miss = miss_of(view, direction, nearest)) nearest = miss;
  }
  return cause_of(station, view, nearest->direction);
}

/// The cause in one direction. Precondition: it does not reach that way.
Cause TwoBallStylusAt::cause_of(const Vec3& station, const TwoBallView& view,
                                const Vec3& direction) const {
  if (const auto rule = view.rule_that_fails(direction)) {
    return plain_cause(target_, *rule, station, place_.optical_centre);
  }
  if (const auto block = room_.block(direction)) {
    return body_cause(target_, block->rule, station, place_.optical_centre, block->contact,
                      block->solid);
  }
  const RoundCone first = view.beam(0, direction);
  const bool is_first_clear = cell_->tree().is_clear(first, cell_->scene().rules.min_margin);
  return beam_cause(*cell_, target_, is_first_clear ? view.beam(1, direction) : first);
}

}  // namespace standpoint
