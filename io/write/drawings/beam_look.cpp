#include "io/write/drawings/beam_look.h"

#include <cmath>
#include <limits>
#include <tuple>

#include "io/words/names.h"
#include "planner/model/stylus_solids.h"
#include "planner/reach/beam.h"
#include "planner/reach/place.h"
#include "planner/why/obstruction.h"

namespace standpoint {
namespace {

/// The target about its centre; a stylus as far as is known how it is held.
std::vector<RoundCone> solids(const Scene& scene, TargetId target, const Vec3& centre,
                              const std::optional<Vec3>& held) {
  std::vector<RoundCone> all{RoundCone::ball(centre, touching_radius(scene, target))};
  if (is_full_target(scene, target) || !held) return all;
  for (const StylusPiece& piece : stylus_pieces(offset_stylus(scene, target)))
    all.push_back(solid_of(piece, centre, *held));
  return all;
}

/// Where the beam to a target would end that fails before its beam is tried.
Vec3 untried_end(const Scene& scene, TargetId target, const Vec3& station, const Vec3& centre) {
  const Vec3 toward = station - centre;
  const double distance = toward.norm();
  double before = is_full_target(scene, target) ? full_target(scene, target).radius : 0;
  if (!is_full_target(scene, target)) {
    if (const auto* mirror = std::get_if<MirrorStylus>(&offset_stylus(scene, target)))
      before = mirror->length;
  }
  // Of a station inside the target nothing is seen; half the way keeps the picture defined.
  if (before >= distance) before = distance / 2;
  return distance > 0 ? Vec3(centre + before / distance * toward) : Vec3(centre + Vec3::UnitX());
}

/// Greater is nearer to reaching.
std::tuple<bool, bool, bool, double> nearness(const Scene& scene, const Cause& cause) {
  return {cause.rule == Rule::beam, cause.solid.has_value(), is_full_target(scene, cause.target),
          cause.margin.value_or(-std::numeric_limits<double>::infinity())};
}

BeamLook blocked_look(const Scene& scene, const Diagnosis& diagnosis,
                      const ExplainedCause& explained) {
  const Cause& cause = explained.cause;
  BeamLook look;
  look.target = cause.target;
  look.cause = cause;
  look.bodies = explained.bodies;
  look.cut = cause.solid;
  const Vec3& centre = cause.optical_centre;
  look.target_solids = solids(scene, cause.target, centre, std::nullopt);
  if (cause.rule == Rule::beam && cause.solid) {
    look.beam = *cause.solid;
    look.allowed = scene.rules.min_margin;
    if (!is_full_target(scene, cause.target)) {
      const auto* rod = std::get_if<TwoBallStylus>(&offset_stylus(scene, cause.target));
      const Vec3 along = (look.beam.end - look.beam.start).normalized();
      if (rod != nullptr) {
        look.target_solids.push_back(
            RoundCone::ball(look.beam.end + rod->ball_radius * along, rod->ball_radius));
      }
    }
  } else {
    const Vec3 end = untried_end(scene, cause.target, diagnosis.station, centre);
    look.beam = beam_between(scene.instrument, diagnosis.station, end);
    look.allowed = -scene.rules.fit_tolerance;
  }
  return look;
}

std::optional<BeamLook> look_at_blocked(const Scene& scene, const Diagnosis& diagnosis) {
  const ExplainedCause* best = nullptr;
  for (const ExplainedTouch& touch : diagnosis.touches) {
    for (const ExplainedCause& explained : touch.causes) {
      if (best != nullptr && nearness(scene, explained.cause) <= nearness(scene, best->cause))
        continue;
      best = &explained;
    }
  }
  if (best == nullptr) return std::nullopt;
  return blocked_look(scene, diagnosis, *best);
}

std::optional<BeamLook> look_at_reached(const Cell& cell, const Diagnosis& diagnosis) {
  const Scene& scene = cell.scene();
  std::optional<BeamLook> look;
  double least = 0;
  for (std::size_t i = 0; i < diagnosis.touches.size(); ++i) {
    const TouchMark& mark = diagnosis.touches[i].mark;
    const auto& taken = diagnosis.mark.by_target;
    const std::optional<Reached>& reached = i < taken.size() && taken[i] ? taken[i] : mark.best;
    if (!reached) continue;
    for (const Vec3& end : reached->beam_ends) {
      const RoundCone beam = beam_between(scene.instrument, diagnosis.station, end);
      const double margin = margin_of(cell, beam);
      if (look && margin >= least) continue;
      least = margin;
      look.emplace();
      look->is_reached = true;
      look->margin = margin;
      look->target = reached->target;
      look->beam = beam;
      look->target_solids =
          solids(scene, reached->target, reached->optical_centre, reached->shank_direction);
    }
  }
  if (look) look->bodies = obstructions(cell, look->beam, scene.rules.tight_margin);
  return look;
}

}  // namespace

std::optional<BeamLook> beam_to_look_along(const Cell& cell, const Diagnosis& diagnosis) {
  if (diagnosis.mark.verdict == Verdict::blocked) {
    if (auto look = look_at_blocked(cell.scene(), diagnosis)) return look;
  }
  // Blocked without a cause: each touch is reached, but no one target reaches enough of them.
  return look_at_reached(cell, diagnosis);
}

const Cure* smallest_station_cure(const Cures& cures) {
  const Cure* smallest = nullptr;
  for (const Cure& cure : cures.cures) {
    if (cure.kind != CureKind::change_height && cure.kind != CureKind::shift_station) continue;
    if (smallest == nullptr || cure.shift.norm() < smallest->shift.norm()) smallest = &cure;
  }
  return smallest;
}

}  // namespace standpoint
