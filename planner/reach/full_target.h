#pragma once

#include <span>
#include <vector>

#include "geometry/tree/tree.h"
#include "planner/reach/place.h"
#include "standpoint/shapes.h"

namespace standpoint {

/// One full target at one place, asked from many stations (contract section 3, "Full target").
///
/// What does not depend on the station is decided once. Not shared between threads; the answers do
/// not depend on what was asked before.
class FullTargetAt {
 public:
  FullTargetAt(const Cell& cell, TargetId target, const Place& place);

  /// The verdict alone, for each station.
  [[nodiscard]] std::vector<bool> reaches_from(std::span<const Vec3> stations) const;
  /// The margin where it reaches; nothing elsewhere.
  [[nodiscard]] std::optional<double> margin_if_reached(const Vec3& station);
  /// The same verdict with its margin or cause.
  [[nodiscard]] Outcome look(const Vec3& station, Causes causes = Causes::told);

 private:
  [[nodiscard]] std::optional<Rule> rule_before_beam(const Vec3& station) const;
  [[nodiscard]] RoundCone beam(const Vec3& station) const;

  const Cell* cell_;
  TargetId target_;
  Place place_;
  std::optional<Contact> misfit_;
  BlockerHint hint_;
};

}  // namespace standpoint
