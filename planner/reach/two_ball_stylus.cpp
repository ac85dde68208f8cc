#include "planner/reach/two_ball_stylus.h"

#include <algorithm>
#include <cmath>

#include "geometry/tree/tree.h"
#include "planner/model/tolerances.h"
#include "planner/reach/beam.h"

namespace standpoint {
namespace {

/// In coarser patches, 30 degrees and more, the beams have too little in common to be judged as
/// one.
constexpr int kCoarsestJudged = 2;
/// In finer patches the search for a patch's own shadow costs as much as asking each direction.
constexpr int kFinestShadow = DirectionPatch::kFinestLevel - 3;
/// After so many patches of one level without a shadow the others are not searched: what stands in
/// the way is not one surface.
constexpr int kMostInVain = 3;

/// The finest patch at the middle of a coarser one.
std::uint32_t finest_at_middle(const DirectionPatch& patch) {
  const int down = DirectionPatch::kFinestLevel - patch.level;
  DirectionPatch finest = patch;
  finest.level = DirectionPatch::kFinestLevel;
  finest.i = static_cast<std::uint16_t>((2 * patch.i + 1) << down >> 1);
  finest.j = static_cast<std::uint16_t>((2 * patch.j + 1) << down >> 1);
  return finest.index();
}

}  // namespace

TwoBallStylusAt::TwoBallStylusAt(const Cell& cell, TargetId target, const Place& place)
    : cell_(&cell),
      target_(target),
      stylus_(&std::get<TwoBallStylus>(offset_stylus(cell.scene(), target))),
      place_(place),
      room_(cell, place.optical_centre, offset_stylus(cell.scene(), target)) {
  if (!place.is_nest) misfit_ = fit_fails(cell, place.optical_centre, stylus_->shank.tip_radius);
}

TwoBallView TwoBallStylusAt::view_from(const Stance& station) const {
  return {cell_->scene().instrument, *stylus_, place_.optical_centre, station};
}

/// Whether the tip is so far out of range that no ball on the rod can be within it.
bool TwoBallStylusAt::is_hopeless(const Stance& station) const {
  const double distance = (place_.optical_centre - station.at).norm();
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
  const auto patch = DirectionPatch::of_index(DirectionPatch::kFinestLevel, finest_index);
  const Vec3& direction = patch.centre();
  return !room_.is_known_blocked(patch) && !view.rule_that_fails(direction) &&
         room_.is_free(finest_index) && is_clear(view, direction, cell_->scene().rules.min_margin);
}

/// One walk over the patches of directions, as one station sees them, for what has beams clear by
/// `wanted`.
struct TwoBallStylusAt::Search {
  const TwoBallView& view;
  ShadowSearch& shadows;
  RingShadow* ring;  ///< nothing where the ring is not thin; then patches have shadows of their own
  double& wanted;    ///< mm; grows while better directions are found
  /// Whether any direction will do: then most are in some shadow, and it is asked first.
  bool is_verdict;
  const Visit& visit;
  /// How many patches of each level were searched for a shadow in vain, one after the other.
  std::array<int, DirectionPatch::kFinestLevel + 1> in_vain{};
};

/// Whether surely no direction of the patch has both beams clear by what is wanted: the beam in its
/// centre is short of that by more than any other can gain, or one surface stands in all.
bool TwoBallStylusAt::is_ruled_out(const DirectionPatch& patch, Search& search) {
  const Vec3& middle = patch.centre();
  bool is_shadow_possible = false;
  for (const std::size_t ball : {first_tried_, 1 - first_tried_}) {
    const double least =
        search.wanted - search.view.most_gain(ball, patch) - tolerance::kWholePatchSlack;
    // What stands right in a beam makes its margin about minus its radius: less cannot be told.
    if (least <= -cell_->scene().instrument.beam_diameter / 2) {
      is_shadow_possible = true;
      continue;
    }
    if (search.view.is_outside(ball, middle) &&
        !cell_->tree().is_clear(search.view.beam(ball, middle), least, &hints_[ball])) {
      first_tried_ = ball;
      return true;
    }
  }
  if (!is_shadow_possible) return false;
  if (search.ring != nullptr) return !search.is_verdict && search.ring->hides(patch);
  int& in_vain = search.in_vain[patch.level];
  if (patch.level > kFinestShadow || in_vain >= kMostInVain) return false;
  for (const std::size_t ball : {first_tried_, 1 - first_tried_}) {
    const auto bundle = search.view.bundle(ball, patch);
    if (bundle && search.shadows.finds_one_over(*bundle)) {
      in_vain = 0;
      first_tried_ = ball;
      return true;
    }
  }
  ++in_vain;
  return false;
}

bool TwoBallStylusAt::any_below(const DirectionPatch& patch, Search& search) {
  // What is known already is asked first, then what the rules say, and what stands about the tip or
  // in a beam last: that costs the most.
  if (room_.is_known_blocked(patch)) return false;
  if (patch.level == DirectionPatch::kFinestLevel) {
    const std::uint32_t index = patch.index();
    return !search.view.rule_that_fails(patch.centre()) && room_.is_free(index) &&
           search.visit(index);
  }
  if (!search.view.may_pass(patch)) return false;
  const bool is_shadow_first = search.is_verdict && search.ring != nullptr;
  if (is_shadow_first && patch.level >= kCoarsestJudged && search.ring->hides(patch)) return false;
  if (room_.is_all_blocked(patch)) return false;
  if (patch.level >= kCoarsestJudged && is_ruled_out(patch, search)) return false;
  for (int which = 0; which < 4; ++which) {
    if (any_below(patch.child(which), search)) return true;
  }
  return false;
}

/// Visits all directions in which the stylus can be held and passes the rules, less those whose
/// beams are surely not clear by what is wanted.
bool TwoBallStylusAt::any_held(const TwoBallView& view, ShadowSearch& shadows, double& wanted,
                               bool is_verdict, const Visit& visit) {
  std::optional<RingShadow> ring;
  if (const auto thin = view.ring()) ring.emplace(*thin, shadows);
  Search search{view, shadows, ring ? &*ring : nullptr, wanted, is_verdict, visit};
  for (std::uint8_t face = 0; face < 6; ++face) {
    if (any_below({face, 0, 0, 0}, search)) return true;
  }
  return false;
}

std::vector<bool> TwoBallStylusAt::reaches_from(std::span<const Stance> stations) {
  std::vector<bool> reached;
  for (const Stance& station : stations) reached.push_back(reaches(station));
  return reached;
}

bool TwoBallStylusAt::reaches(const Stance& station) {
  if (misfit_ || is_hopeless(station)) return false;
  const TwoBallView view = view_from(station);
  if (last_reaching_ && reaches_held(view, *last_reaching_)) return true;
  const auto reaches_at = [&](std::uint32_t index) {
    if (!reaches_held(view, index)) return false;
    last_reaching_ = index;
    return true;
  };
  // A wide choice of directions is met by one of a few, spread out.
  for (std::uint32_t k = 0; k < DirectionPatch::count_at(kCoarsestJudged); ++k) {
    if (reaches_at(finest_at_middle(DirectionPatch::of_index(kCoarsestJudged, k)))) return true;
  }
  // And where a wall stands between, it mostly hides the nearer ball wherever that is.
  ShadowSearch shadows(cell_->tree(), station.at);
  const auto all_beams = view.bundle(0);
  if (all_beams && shadows.finds_one_over(*all_beams)) return false;
  double wanted = cell_->scene().rules.min_margin;
  const Visit visit = [&](std::uint32_t index) {
    if (!is_clear(view, finest_directions()[index], wanted)) return false;
    last_reaching_ = index;
    return true;
  };
  return any_held(view, shadows, wanted, true, visit);
}

std::optional<double> TwoBallStylusAt::margin_if_reached(const Stance& station) {
  if (misfit_ || is_hopeless(station)) return std::nullopt;
  const auto best = best_held(station);
  return best ? std::optional(best->margin) : std::nullopt;
}

Outcome TwoBallStylusAt::look(const Stance& station, Causes causes) {
  const bool is_told = causes == Causes::told;
  if (!is_told && (misfit_ || is_hopeless(station))) return untold_cause(target_);
  if (misfit_)
    return body_cause(*cell_, target_, Rule::no_fit, station.at, place_.optical_centre, *misfit_,
                      RoundCone::ball(place_.optical_centre, stylus_->shank.tip_radius));
  if (is_hopeless(station)) {
    return plain_cause(target_, Rule::out_of_range, station.at, place_.optical_centre);
  }
  if (auto best = best_held(station)) return *std::move(best);
  return is_told ? nearest_miss(station) : untold_cause(target_);
}

/// A margin that some direction has to spare: the search for the largest need not climb to it step
/// by step, each a measurement in full. From one direction in 64, scattered, so that few steps
/// lead up; nothing where none of those reaches.
std::optional<double> TwoBallStylusAt::margin_at_least(const TwoBallView& view) {
  constexpr int kLevel = DirectionPatch::kFinestLevel - 3;
  constexpr std::uint32_t kCount = DirectionPatch::count_at(kLevel);
  constexpr std::uint32_t kStride = 617;  // prime to kCount: meets each once
  const double least = cell_->scene().rules.min_margin;
  std::optional<double> found;
  for (std::uint32_t k = 0; k < kCount; ++k) {
    const std::uint32_t index =
        finest_at_middle(DirectionPatch::of_index(kLevel, k * kStride % kCount));
    const auto patch = DirectionPatch::of_index(DirectionPatch::kFinestLevel, index);
    const Vec3& direction = patch.centre();
    if (room_.is_known_blocked(patch) || view.rule_that_fails(direction) || !room_.is_free(index)) {
      continue;
    }
    if (!is_clear(view, direction, found.value_or(least))) continue;
    found = std::max(found.value_or(least), margin_of_beams(view, direction));
  }
  if (!found) return std::nullopt;
  return std::isinf(*found) ? least : std::max(least, *found - tolerance::kMarginToSpare);
}

/// Of the directions that reach the one with the largest margin, of equal ones the first; nothing
/// where none reaches. Precondition: it fits, and the station is not hopeless.
std::optional<Reached> TwoBallStylusAt::best_held(const Stance& station) {
  const TwoBallView view = view_from(station);
  const std::optional<double> found = margin_at_least(view);
  if (!found && !reaches(station)) return std::nullopt;
  ShadowSearch shadows(cell_->tree(), station.at);
  double wanted = found.value_or(cell_->scene().rules.min_margin);
  std::optional<Reached> best;
  const Visit visit = [&](std::uint32_t index) {
    const Vec3& direction = finest_directions()[index];
    // Only a direction that beats the best so far is measured in full.
    if (!is_clear(view, direction, wanted)) return false;
    const double margin = margin_of_beams(view, direction);
    if (best && margin <= best->margin) return false;
    best = Reached{target_,
                   margin,
                   direction,
                   {view.beam(0, direction).end, view.beam(1, direction).end},
                   place_.optical_centre};
    wanted = margin;
    return std::isinf(margin);
  };
  (void)any_held(view, shadows, wanted, false, visit);
  return best;
}

/// Of some directions that the rules allow and the beams stop, the one with the largest margin of
/// both; of equal ones the first. Precondition: some.
Vec3 TwoBallStylusAt::least_broken(const TwoBallView& view, std::span<const std::uint32_t> held) {
  std::optional<double> largest;
  std::uint32_t best = held.front();
  for (const std::uint32_t index : held) {
    const Vec3& direction = finest_directions()[index];
    if (largest && !is_clear(view, direction, *largest)) continue;
    const double margin = margin_of_beams(view, direction);
    if (largest && margin <= *largest) continue;
    largest = margin;
    best = index;
  }
  return finest_directions()[best];
}

/// Of some directions without room, the one where what blocks comes in least; of equal ones the
/// first. Precondition: some.
Vec3 TwoBallStylusAt::least_cut(std::span<const std::uint32_t> blocked) {
  std::optional<double> largest;
  std::uint32_t best = blocked.front();
  for (const std::uint32_t index : blocked) {
    const auto block = room_.block(finest_directions()[index], largest);
    if (!block) continue;
    largest = block->contact.nearest.margin;
    best = index;
  }
  return finest_directions()[best];
}

/// The cause in the direction that gets farthest through the rules (range and elevation,
/// acceptance, room, beams), of those the largest margin, over one in sixteen of the directions:
/// enough to tell people what comes nearest. Precondition: no finest direction reaches.
Cause TwoBallStylusAt::nearest_miss(const Stance& station) {
  constexpr int kLevel = DirectionPatch::kFinestLevel - 2;
  const TwoBallView view = view_from(station);
  std::vector<std::uint32_t> held, blocked;
  std::optional<std::uint32_t> not_accepted;
  for (std::uint32_t k = 0; k < DirectionPatch::count_at(kLevel); ++k) {
    const std::uint32_t index = finest_at_middle(DirectionPatch::of_index(kLevel, k));
    if (const auto rule = view.rule_that_fails(finest_directions()[index])) {
      if (rule == Rule::acceptance && !not_accepted) not_accepted = index;
    } else {
      (room_.is_free(index) ? held : blocked).push_back(index);
    }
  }
  const std::uint32_t any = finest_at_middle(DirectionPatch::of_index(kLevel, 0));
  return cause_of(station, view,
                  !held.empty()      ? least_broken(view, held)
                  : !blocked.empty() ? least_cut(blocked)
                                     : finest_directions()[not_accepted.value_or(any)]);
}

/// The cause in one direction. Precondition: it does not reach that way.
Cause TwoBallStylusAt::cause_of(const Stance& station, const TwoBallView& view,
                                const Vec3& direction) const {
  if (const auto rule = view.rule_that_fails(direction)) {
    return plain_cause(target_, *rule, station.at, place_.optical_centre);
  }
  if (const auto block = room_.block(direction)) {
    return body_cause(*cell_, target_, block->rule, station.at, place_.optical_centre,
                      block->contact, block->solid);
  }
  const RoundCone first = view.beam(0, direction);
  const bool is_first_clear = cell_->tree().is_clear(first, cell_->scene().rules.min_margin);
  return beam_cause(*cell_, target_, is_first_clear ? view.beam(1, direction) : first,
                    place_.optical_centre);
}

}  // namespace standpoint
