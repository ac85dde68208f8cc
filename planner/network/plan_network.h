#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "planner/network/what_if.h"
#include "standpoint/plan.h"
#include "standpoint/scene.h"

namespace standpoint {

// From a plan to its network and back: contract section 6.

/// What the stations of a plan observe.
struct PlanNetwork {
  NetworkInput input;  ///< stations in the plan's order, nests in the scene's
  /// Every touch that a measured feature's target reaches from its station, or from the one that
  /// takes the touch where several share the feature; by feature, then touch.
  std::vector<WatchedTouch> touches;
  std::vector<std::uint32_t> touch_index;  ///< for each of `touches`, where it is in its mark
};

/// The network of a plan: every station observes each nest it reaches once (by full target or
/// stylus) with the scene's repeatability of seating. The datum is `scene.datum`: nests by name,
/// and of features every touch reached from the station that takes it; a name that nothing observes
/// is left out. With `scene.alignment` there is none: its features' touches, as they are taken,
/// hold the part's frame. Reads of the plan: each station's place and sight, each feature's station
/// and target. Pure.
[[nodiscard]] PlanNetwork plan_network(const Scene& scene, const Plan& plan);

/// Why a plan has figures or none.
enum class Figures : std::uint8_t {
  network,    ///< from the network
  own,        ///< no nests, one station: each observation's own covariance, no pose
  untied,     ///< no nests, several stations: none
  deficient,  ///< something can move: none
  unaligned,  ///< the alignment leaves the part free to move: none
  no_datum,   ///< nothing that `scene.datum` names is observed: none
};

struct PlanUncertainty {
  Figures figures = Figures::network;
  std::vector<Deficiency> deficient;  ///< for Figures::deficient
  std::vector<Motion> free;           ///< for Figures::unaligned
  std::optional<Network> network;     ///< for Figures::network
  /// For each of PlanNetwork::touches; empty where there are no figures. With the room's part.
  std::vector<PointUncertainty> touches;
};

/// The figures of contract section 6, with what `scene.environment` adds. One thread;
/// O(solve_network + touches).
[[nodiscard]] PlanUncertainty predict_uncertainty(const Scene& scene, const PlanNetwork& network);

/// The same for any network and the touches that are watched in it.
[[nodiscard]] PlanUncertainty predict_uncertainty(const Scene& scene, const NetworkInput& input,
                                                  const std::vector<WatchedTouch>& touches);

/// The middle of what is touched, mm: about it a part grows where there is no network. Zero for
/// none.
[[nodiscard]] Vec3 middle_of(const std::vector<WatchedTouch>& touches);

/// Writes the figures into the plan: pose covariances, touch uncertainties, and each feature's,
/// that of its worst touch (the first of equals). Overwrites what was there. Leaves warnings to the
/// caller.
void write_uncertainty(const PlanNetwork& network, const PlanUncertainty& uncertainty, Plan& plan);

}  // namespace standpoint
