#pragma once

#include <span>
#include <vector>

#include "geometry/tree/tree.h"
#include "planner/reach/place.h"
#include "planner/reach/shank_room.h"
#include "standpoint/shapes.h"

namespace standpoint {

/// One mirror stylus at one place, asked from many stations (contract section 3, "mirror").
///
/// The beam does not depend on how the stylus is held (it aims at the virtual reflector in the
/// tip's centre), so it is tried first; then the direction to hold it is searched within `swing` of
/// the beam: straight at the instrument, then all centres of the finest direction patches, so that
/// any free set that holds a disc of 2 degrees is found; `look` takes the one nearest to straight.
/// A station nearer to the tip than `length` is out of range: the mirror would stand behind it.
/// Not shared between threads; the answers do not depend on what was asked before.
class MirrorStylusAt {
 public:
  MirrorStylusAt(const Cell& cell, TargetId target, const Place& place);

  [[nodiscard]] std::vector<bool> reaches_from(std::span<const Stance> stations);
  [[nodiscard]] std::optional<double> margin_if_reached(const Stance& station);
  [[nodiscard]] Outcome look(const Stance& station, Causes causes = Causes::told);

 private:
  [[nodiscard]] std::optional<Rule> rule_before_beam(const Stance& station) const;
  [[nodiscard]] RoundCone beam(const Stance& station) const;
  [[nodiscard]] std::optional<Vec3> direction_to_hold(const Stance& station);
  [[nodiscard]] bool can_be_held(const Stance& station);

  const Cell* cell_;
  TargetId target_;
  const MirrorStylus* stylus_;
  Place place_;
  std::optional<Contact> misfit_;
  ShankRoom room_;
  BlockerHint hint_;
};

}  // namespace standpoint
