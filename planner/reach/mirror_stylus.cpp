#include "planner/reach/mirror_stylus.h"

#include "geometry/tree/tree.h"
#include "planner/reach/beam.h"

namespace standpoint {

MirrorStylusAt::MirrorStylusAt(const Cell& cell, TargetId target, const Place& place)
    : cell_(&cell),
      target_(target),
      stylus_(&std::get<MirrorStylus>(offset_stylus(cell.scene(), target))),
      place_(place),
      room_(cell, place.optical_centre, offset_stylus(cell.scene(), target)) {
  if (!place.is_nest) misfit_ = fit_fails(cell, place.optical_centre, stylus_->shank.tip_radius);
}

std::optional<Rule> MirrorStylusAt::rule_before_beam(const Stance& station) const {
  if (misfit_) return Rule::no_fit;
  return range_or_elevation_fails(cell_->scene().instrument, station, place_.optical_centre,
                                  stylus_->length);
}

/// To where the mirror folds it.
RoundCone MirrorStylusAt::beam(const Stance& station) const {
  const Vec3 toward = (station.at - place_.optical_centre).normalized();
  return beam_between(cell_->scene().instrument, station.at,
                      place_.optical_centre + stylus_->length * toward);
}

std::optional<Vec3> MirrorStylusAt::direction_to_hold(const Stance& station) {
  const Vec3 toward = (station.at - place_.optical_centre).normalized();
  if (room_.is_free(toward)) return toward;
  std::optional<Vec3> nearest;
  double most = -1;  // cosine of the angle off the beam
  any_finest_within(toward, stylus_->swing_rad, [&](std::uint32_t index) {
    const Vec3& direction = finest_directions()[index];
    const double cosine = direction.dot(toward);
    if (cosine > most && room_.is_free(index)) {
      most = cosine;
      nearest = direction;
    }
    return false;
  });
  return nearest;
}

/// Whether there is any: cheaper than the one nearest to straight.
bool MirrorStylusAt::can_be_held(const Stance& station) {
  const Vec3 toward = (station.at - place_.optical_centre).normalized();
  return room_.is_free(toward) ||
         any_finest_within(toward, stylus_->swing_rad,
                           [&](std::uint32_t index) { return room_.is_free(index); });
}

std::vector<bool> MirrorStylusAt::reaches_from(std::span<const Stance> stations) {
  std::vector<bool> reached =
      clear_where(*cell_, stations, [&](const Stance& station) -> std::optional<RoundCone> {
        if (rule_before_beam(station)) return std::nullopt;
        return beam(station);
      });
  for (std::size_t i = 0; i < stations.size(); ++i) {
    reached[i] = reached[i] && can_be_held(stations[i]);
  }
  return reached;
}

std::optional<double> MirrorStylusAt::margin_if_reached(const Stance& station) {
  if (!reaches_from({&station, 1}).front()) return std::nullopt;
  return margin_of(*cell_, beam(station));
}

Outcome MirrorStylusAt::look(const Stance& station, Causes causes) {
  if (const auto rule = rule_before_beam(station)) {
    if (causes == Causes::left_out) return untold_cause(target_);
    return *rule == Rule::no_fit
               ? body_cause(*cell_, target_, *rule, station.at, place_.optical_centre, *misfit_,
                            RoundCone::ball(place_.optical_centre, stylus_->shank.tip_radius))
               : plain_cause(target_, *rule, station.at, place_.optical_centre);
  }
  const RoundCone beam = this->beam(station);
  if (!cell_->tree().is_clear(beam, cell_->scene().rules.min_margin, &hint_)) {
    if (causes == Causes::left_out) return untold_cause(target_);
    return beam_cause(*cell_, target_, beam, place_.optical_centre);
  }
  const auto direction = direction_to_hold(station);
  if (!direction) {
    if (causes == Causes::left_out) return untold_cause(target_);
    // Told for the stylus held straight at the instrument: what people try first.
    const auto block = room_.block((station.at - place_.optical_centre).normalized());
    return body_cause(*cell_, target_, block->rule, station.at, place_.optical_centre,
                      block->contact, block->solid);
  }
  return Reached{target_, margin_of(*cell_, beam), direction, {beam.end}, place_.optical_centre};
}

}  // namespace standpoint
