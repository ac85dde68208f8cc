#pragma once

#include <span>
#include <vector>

#include "geometry/tree/tree.h"
#include "planner/reach/place.h"
#include "standpoint/shapes.h"

namespace standpoint {

/// One full target at one place, asked from many stations (contract section 3, "Full target").
///
/// A ball that a hole adapter carries is one: its seat is the adapter's, and the adapter's base
/// must fit too (contract section 9). What does not depend on the station is decided once. Not
/// shared between threads; the answers do not depend on what was asked before.
class FullTargetAt {
 public:
  FullTargetAt(const Cell& cell, TargetId target, const Place& place);

  /// The verdict alone, for each station.
  [[nodiscard]] std::vector<bool> reaches_from(std::span<const Stance> stations) const;
  /// The margin where it reaches; nothing elsewhere.
  [[nodiscard]] std::optional<double> margin_if_reached(const Stance& station);
  /// The same verdict with its margin or cause.
  [[nodiscard]] Outcome look(const Stance& station, Causes causes = Causes::told);

 private:
  [[nodiscard]] std::optional<Rule> rule_before_beam(const Stance& station) const;
  [[nodiscard]] RoundCone beam(const Stance& station) const;

  const Cell* cell_;
  TargetId target_;
  Place place_;
  std::optional<Contact> misfit_;
  bool is_misfit_of_base_ = false;  ///< of an adapter's base, not of the ball
  BlockerHint hint_;
};

}  // namespace standpoint
