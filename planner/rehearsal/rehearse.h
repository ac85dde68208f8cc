#pragma once

#include <optional>

#include "planner/network/plan_network.h"
#include "standpoint/rehearsal.h"

namespace standpoint {

/// Draws every observation of the network with the instrument's errors (and the repeatability of
/// seating), adjusts the whole network and places every touch, trial by trial; and the same with
/// blunders: of each nest that several stations see, that it moved after the first of them, by
/// `moved_by` in a drawn direction; and in each station that its two nearest nests were taken for
/// each other.
///
/// The adjustment answers linearly (`Adjustment::respond`): exact for these errors to a part in
/// 1e5, the ratio of an error to a sight; a test adjusts the same draws by Gauss and Newton. The
/// room's part is not drawn: it is the same for all trials. Nothing where the network does not
/// hold, or its datum lies on features. On all cores; the same order gives the same rehearsal to
/// the last bit. O(trials x (observations + stations^2 + touches)).
[[nodiscard]] std::optional<Rehearsal> rehearse_network(const PlanNetwork& network,
                                                        const RehearsalOrder& order,
                                                        const Watch& watch);

}  // namespace standpoint
