#include "planner/reach/full_target.h"

#include "geometry/tree/tree.h"
#include "geometry/vec.h"
#include "planner/reach/beam.h"

namespace standpoint {

FullTargetAt::FullTargetAt(const Cell& cell, TargetId target, const Place& place)
    : cell_(&cell), target_(target), place_(place) {
  if (place.is_nest) return;
  const double radius = full_target(cell.scene(), target).radius;
  misfit_ = fit_fails(cell, place.optical_centre, radius);
  const HoleAdapter* adapter = hole_adapter(cell.scene(), target);
  if (adapter == nullptr) return;
  place_.seat_rad = adapter->seat_rad;
  if (misfit_) return;
  misfit_ = base_fit_fails(cell, *adapter, place);
  is_misfit_of_base_ = misfit_.has_value();
}

std::optional<Rule> FullTargetAt::rule_before_beam(const Stance& station) const {
  const FullTarget& ball = full_target(cell_->scene(), target_);
  if (misfit_) return Rule::no_fit;
  if (const auto rule = range_or_elevation_fails(cell_->scene().instrument, station,
                                                 place_.optical_centre, ball.radius)) {
    return rule;
  }
  // The contact may not lie inside the reflector's opening, however the ball is rolled.
  const double off_contact = angle_between(station.at - place_.optical_centre, -place_.normal);
  const bool is_accepted = off_contact >= ball.aperture_rad + place_.seat_rad - ball.acceptance_rad;
  return is_accepted ? std::nullopt : std::optional(Rule::acceptance);
}

/// To where it enters the ball.
RoundCone FullTargetAt::beam(const Stance& station) const {
  const Vec3 toward = (station.at - place_.optical_centre).normalized();
  const double radius = full_target(cell_->scene(), target_).radius;
  return beam_between(cell_->scene().instrument, station.at,
                      place_.optical_centre + radius * toward);
}

std::vector<bool> FullTargetAt::reaches_from(std::span<const Stance> stations) const {
  return clear_where(*cell_, stations, [&](const Stance& station) -> std::optional<RoundCone> {
    if (rule_before_beam(station)) return std::nullopt;
    return beam(station);
  });
}

std::optional<double> FullTargetAt::margin_if_reached(const Stance& station) {
  if (!reaches_from({&station, 1}).front()) return std::nullopt;
  return margin_of(*cell_, beam(station));
}

Outcome FullTargetAt::look(const Stance& station, Causes causes) {
  if (const auto rule = rule_before_beam(station)) {
    if (causes == Causes::left_out) return untold_cause(target_);
    if (*rule != Rule::no_fit)
      return plain_cause(target_, *rule, station.at, place_.optical_centre);
    const double radius = full_target(cell_->scene(), target_).radius;
    Cause cause = body_cause(*cell_, target_, *rule, station.at, place_.optical_centre, *misfit_,
                             RoundCone::ball(place_.optical_centre, radius));
    // A base with flat ends is no round cone.
    if (is_misfit_of_base_) cause.solid.reset();
    return cause;
  }
  const RoundCone beam = this->beam(station);
  if (!cell_->tree().is_clear(beam, cell_->scene().rules.min_margin, &hint_)) {
    if (causes == Causes::left_out) return untold_cause(target_);
    return beam_cause(*cell_, target_, beam, place_.optical_centre);
  }
  return Reached{target_, margin_of(*cell_, beam), std::nullopt, {beam.end}, place_.optical_centre};
}

}  // namespace standpoint
