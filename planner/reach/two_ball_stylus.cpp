#include "planner/reach/two_ball_stylus.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "planner/reach/beam.h"

namespace standpoint {
namespace {

/// How far a stylus got towards reaching, the later the farther: for telling the nearest miss.
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

TwoBallStylusAt::Held TwoBallStylusAt::hold(const Vec3& station, const Vec3& direction) const {
  Held held{direction, {}};
  for (std::size_t i = 0; i < 2; ++i) {
    const Vec3 ball = place_.optical_centre + stylus_->ball_distances[i] * direction;
    const Vec3 toward = (station - ball).normalized();
    held.beams[i] =
        beam_between(cell_->scene().instrument, station, ball + stylus_->ball_radius * toward);
  }
  return held;
}

std::optional<Rule> TwoBallStylusAt::rule_of_balls(const Vec3& station, const Held& held) const {
  for (const double distance : stylus_->ball_distances) {
    const Vec3 ball = place_.optical_centre + distance * held.direction;
    if (const auto rule = range_or_elevation_fails(cell_->scene().instrument, station, ball,
                                                   stylus_->ball_radius)) {
      return rule;
    }
    const double off_square =
        std::abs(angle_between(held.direction, station - ball) - std::numbers::pi / 2);
    if (off_square > stylus_->acceptance_rad) return Rule::acceptance;
  }
  return std::nullopt;
}

bool TwoBallStylusAt::is_clear(const Held& held, double margin) {
  return cell_->tree().is_clear(held.beams[0], margin, &hints_[0]) &&
         cell_->tree().is_clear(held.beams[1], margin, &hints_[1]);
}

bool TwoBallStylusAt::reaches(const Vec3& station) {
  if (misfit_ || is_hopeless(station)) return false;
  const double least = cell_->scene().rules.min_margin;
  for (const std::uint32_t index : room_.free_directions()) {
    const Held held = hold(station, finest_directions()[index]);
    if (!rule_of_balls(station, held) && is_clear(held, least)) return true;
  }
  return false;
}

/// Whether the tip is so far out of range that no ball on the rod can be within it.
bool TwoBallStylusAt::is_hopeless(const Vec3& station) const {
  const double distance = (place_.optical_centre - station).norm();
  const Interval& range = cell_->scene().instrument.range;
  return distance - stylus_->ball_distances[0] > range.high ||
         distance + stylus_->ball_distances[0] < range.low;
}

Outcome TwoBallStylusAt::look(const Vec3& station) {
  if (misfit_) return body_cause(target_, Rule::no_fit, station, *misfit_);
  if (is_hopeless(station)) {
    return plain_cause(target_, Rule::out_of_range, station, place_.optical_centre);
  }
  std::optional<Reached> best;
  for (const std::uint32_t index : room_.free_directions()) {
    const Held held = hold(station, finest_directions()[index]);
    if (rule_of_balls(station, held)) continue;
    // Only a direction that beats the best so far is measured in full.
    if (!is_clear(held, best ? best->margin : cell_->scene().rules.min_margin)) continue;
    const double margin =
        std::min(margin_of(*cell_, held.beams[0]), margin_of(*cell_, held.beams[1]));
    if (best && margin <= best->margin) continue;
    best = Reached{target_, margin, held.direction, {held.beams[0].end, held.beams[1].end}};
    if (std::isinf(margin)) break;
  }
  if (best) return *best;
  return nearest_miss(station);
}

/// The cause in one direction. Precondition: it does not reach that way.
Cause TwoBallStylusAt::cause_of(const Vec3& station, const Held& held) {
  if (const auto rule = rule_of_balls(station, held)) {
    return plain_cause(target_, *rule, station, place_.optical_centre);
  }
  if (const auto block = room_.block(held.direction)) {
    return body_cause(target_, block->rule, station, block->contact);
  }
  const double least = cell_->scene().rules.min_margin;
  const bool first_is_clear = cell_->tree().is_clear(held.beams[0], least, &hints_[0]);
  return beam_cause(*cell_, target_, first_is_clear ? held.beams[1] : held.beams[0]);
}

/// The cause in the direction that gets farthest through the rules, of those the largest margin,
/// over one in sixteen of the directions: enough to tell people what comes nearest.
Cause TwoBallStylusAt::nearest_miss(const Vec3& station) {
  std::optional<Cause> nearest;
  const auto rank = [](const Cause& cause) {
    return std::pair(progress_of(cause.rule),
                     cause.margin.value_or(-std::numeric_limits<double>::infinity()));
  };
  const double least = cell_->scene().rules.min_margin;
  for (const Vec3& direction : directions_at_level(DirectionPatch::kFinestLevel - 2)) {
    const Held held = hold(station, direction);
    if (!rule_of_balls(station, held) && room_.is_free(direction) && is_clear(held, least)) {
      continue;  // it reaches, though no finest direction does: a set narrower than promised
    }
    const Cause cause = cause_of(station, held);
    if (!nearest || rank(cause) > rank(*nearest)) nearest = cause;
  }
  return nearest.value_or(
      plain_cause(target_, Rule::acceptance, station, place_.optical_centre));
}

}  // namespace standpoint
