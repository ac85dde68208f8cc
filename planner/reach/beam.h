#pragma once

#include <optional>
#include <span>
#include <vector>

#include "geometry/tree/tree.h"
#include "standpoint/cell.h"
#include "standpoint/sight.h"

namespace standpoint {

/// The instrument's beam from its measuring centre to `end` (contract section 3).
[[nodiscard]] RoundCone beam_between(const Instrument& instrument, const Vec3& centre,
                                     const Vec3& end);

/// For each station whether there is a beam to be judged, `beam_from(station)`, and it is clear by
/// `min_margin`. The beams are asked for together (Tree::are_clear).
template <class BeamFrom>
[[nodiscard]] std::vector<bool> clear_where(const Cell& cell, std::span<const Stance> stations,
                                            BeamFrom&& beam_from) {
  std::vector<bool> clear(stations.size(), false);
  std::vector<RoundCone> beams;
  std::vector<std::size_t> asked;
  for (std::size_t i = 0; i < stations.size(); ++i) {
    const std::optional<RoundCone> beam = beam_from(stations[i]);
    if (!beam) continue;
    beams.push_back(*beam);
    asked.push_back(i);
  }
  const std::vector<bool> answers =
      cell.tree().are_clear(beams, cell.scene().rules.min_margin, Order::by_target);
  for (std::size_t i = 0; i < asked.size(); ++i) clear[asked[i]] = answers[i];
  return clear;
}

/// What first breaks a beam.
struct Blocker {
  BodyId body;
  TriangleId triangle;
  double distance = 0;  ///< along the axis, mm, where the body first comes nearer than allowed
  double margin = 0;    ///< of the whole beam, mm
  Vec3 at;              ///< the body's point there
};

/// The first place along `beam` where a body comes nearer than `margin`, with the margin of the
/// whole beam; nothing where the beam is clear. Precondition for an answer: !is_clear(beam,
/// margin).
[[nodiscard]] std::optional<Blocker> first_blocker(const Tree& tree, const RoundCone& beam,
                                                   double margin);

}  // namespace standpoint
