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
  if (misfit_) return false;
  const double least = cell_->scene().rules.min_margin;
  const auto& directions = finest_directions();
  for (std::uint32_t index = 0; index < directions.size(); ++index) {
    const Held held = hold(station, directions[index]);
    if (!rule_of_balls(station, held) && room_.is_free(index) && is_clear(held, least)) return true;
  }
  return false;
}

Outcome TwoBallStylusAt::look(const Vec3& station) {
  if (misfit_) return body_cause(target_, Rule::no_fit, station, *misfit_);
  const auto& directions = finest_directions();
  std::optional<Reached> best;
  for (std::uint32_t index = 0; index < directions.size(); ++index) {
    const Held held = hold(station, directions[index]);
    if (rule_of_balls(station, held) || !room_.is_free(index)) continue;
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

/// The cause in the direction that gets farthest through the rules; of those the largest margin.
Cause TwoBallStylusAt::nearest_miss(const Vec3& station) {
  const auto& directions = finest_directions();
  std::optional<Cause> nearest;
  const auto offer = [&](const Cause& cause) {
    const auto rank = [](const Cause& c) {
      return std::pair(progress_of(c.rule),
                       c.margin.value_or(-std::numeric_limits<double>::infinity()));
    };
    if (!nearest || rank(cause) > rank(*nearest)) nearest = cause;
  };
  for (std::uint32_t index = 0; index < directions.size(); ++index) {
    const Held held = hold(station, directions[index]);
    if (const auto rule = rule_of_balls(station, held)) {
      if (!nearest || progress_of(*rule) > progress_of(nearest->rule)) {
        offer(plain_cause(target_, *rule, station, place_.optical_centre));
      }
      continue;
    }
    if (!room_.is_free(index)) {
      if (nearest && progress_of(nearest->rule) > progress_of(Rule::shank)) continue;
      if (const auto block = room_.block(held.direction)) {
        offer(body_cause(target_, block->rule, station, block->contact));
      }
      continue;
    }
    const RoundCone& broken =
        cell_->tree().is_clear(held.beams[0], cell_->scene().rules.min_margin, &hints_[0])
            ? held.beams[1]
            : held.beams[0];
    const double margin = margin_of(*cell_, broken);
    if (!nearest || progress_of(nearest->rule) < progress_of(Rule::beam) ||
        margin > *nearest->margin) {
      offer(beam_cause(*cell_, target_, broken));
    }
  }
  return *nearest;
}

}  // namespace standpoint
