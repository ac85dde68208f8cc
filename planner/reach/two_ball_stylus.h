#pragma once

#include "planner/reach/place.h"
#include "planner/reach/shank_room.h"

namespace standpoint {

/// One two-ball stylus at one place, asked from many stations (contract section 3, "two-ball").
///
/// The direction to hold it is searched over the centres of all finest direction patches, so that
/// any feasible set wider than 2 degrees is found; `look` takes the one with the largest margin (of
/// equal ones the first). Not shared between threads.
class TwoBallStylusAt {
 public:
  TwoBallStylusAt(const Cell& cell, TargetId target, const Place& place);

  [[nodiscard]] bool reaches(const Vec3& station);
  [[nodiscard]] Outcome look(const Vec3& station);

 private:
  struct Held {
    Vec3 direction;
    std::array<RoundCone, 2> beams;
  };
  [[nodiscard]] Held hold(const Vec3& station, const Vec3& direction) const;
  [[nodiscard]] std::optional<Rule> rule_of_balls(const Vec3& station, const Held& held) const;
  [[nodiscard]] bool is_clear(const Held& held, double margin);
  [[nodiscard]] bool is_hopeless(const Vec3& station) const;
  [[nodiscard]] Cause cause_of(const Vec3& station, const Held& held);
  [[nodiscard]] Cause nearest_miss(const Vec3& station);

  const Cell* cell_;
  TargetId target_;
  const TwoBallStylus* stylus_;
  Place place_;
  std::optional<Contact> misfit_;
  ShankRoom room_;
  std::array<BlockerHint, 2> hints_;
};

}  // namespace standpoint
