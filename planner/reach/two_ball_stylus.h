#pragma once

#include <functional>
#include <span>

#include "geometry/tree/tree.h"
#include "planner/reach/place.h"
#include "planner/reach/ring_shadow.h"
#include "planner/reach/shadow.h"
#include "planner/reach/shank_room.h"
#include "planner/reach/two_ball_view.h"
#include "standpoint/shapes.h"

namespace standpoint {

/// One two-ball stylus at one place, asked from many stations (contract section 3, "two-ball").
///
/// The direction to hold it is searched over the centres of all finest direction patches, so that
/// any feasible set that holds a disc of 2 degrees is found; `look` takes the one with the largest
/// margin (of equal ones the first). Patches are left out whole where no direction of theirs can
/// be feasible (docs/reach.md). Not shared between threads; the answers do not depend on what was
/// asked before.
class TwoBallStylusAt {
 public:
  TwoBallStylusAt(const Cell& cell, TargetId target, const Place& place);

  [[nodiscard]] bool reaches(const Stance& station);
  [[nodiscard]] std::vector<bool> reaches_from(std::span<const Stance> stations);
  [[nodiscard]] std::optional<double> margin_if_reached(const Stance& station);
  [[nodiscard]] Outcome look(const Stance& station, Causes causes = Causes::told);

 private:
  using Visit = std::function<bool(std::uint32_t finest_index)>;
  struct Search;

  [[nodiscard]] TwoBallView view_from(const Stance& station) const;
  [[nodiscard]] bool is_hopeless(const Stance& station) const;
  [[nodiscard]] bool is_clear(const TwoBallView& view, const Vec3& direction, double margin);
  [[nodiscard]] double margin_of_beams(const TwoBallView& view, const Vec3& direction) const;
  [[nodiscard]] bool reaches_held(const TwoBallView& view, std::uint32_t finest_index);
  [[nodiscard]] bool any_below(const DirectionPatch& patch, Search& search);
  [[nodiscard]] bool any_held(const TwoBallView& view, ShadowSearch& shadows, double& wanted,
                              bool is_verdict, const Visit& visit);
  [[nodiscard]] bool is_ruled_out(const DirectionPatch& patch, Search& search);
  [[nodiscard]] std::optional<Reached> best_held(const Stance& station);
  [[nodiscard]] std::optional<double> margin_at_least(const TwoBallView& view);
  [[nodiscard]] Vec3 least_broken(const TwoBallView& view, std::span<const std::uint32_t> held);
  [[nodiscard]] Vec3 least_cut(std::span<const std::uint32_t> blocked);
  [[nodiscard]] Cause nearest_miss(const Stance& station);
  [[nodiscard]] Cause cause_of(const Stance& station, const TwoBallView& view,
                               const Vec3& direction) const;

  const Cell* cell_;
  TargetId target_;
  const TwoBallStylus* stylus_;
  Place place_;
  std::optional<Contact> misfit_;
  ShankRoom room_;
  // What follows changes how fast an answer comes, never the answer.
  std::array<BlockerHint, 2> hints_;
  std::size_t first_tried_ = 0;                 ///< the ball that was blocked last
  std::optional<std::uint32_t> last_reaching_;  ///< direction that reached last
};

}  // namespace standpoint
