#pragma once

#include <optional>
#include <vector>

#include "standpoint/cell.h"
#include "standpoint/why.h"

namespace standpoint {

/// The one beam of a diagnosis that is worth looking along, and what there is to see.
struct BeamLook {
  TargetId target;
  bool is_reached = false;
  double margin = 0;  ///< of a beam that reaches, mm; infinite where nothing stands anywhere
  RoundCone beam;     ///< from the measuring centre to where it ends
  std::vector<RoundCone> target_solids;  ///< ball, or tip and as much of a stylus as is known
  /// Of a blocked touch: the cause; what stands in `cut` is in the way.
  std::optional<Cause> cause;
  std::optional<RoundCone> cut;     ///< the beam, shank, head or ball that bodies stand in
  double allowed = 0;               ///< how near they may come to it, mm
  std::vector<Obstruction> bodies;  ///< in `cut`; of a reached touch what its beam grazes
};

/// Of a blocked subject the cause that comes nearest to reaching: a beam that was tried before
/// anything else, full targets before styli, then the larger margin. Of a reached one the touch
/// with the least margin. Nothing where no target was tried on any touch. The first of equals.
[[nodiscard]] std::optional<BeamLook> beam_to_look_along(const Cell& cell,
                                                         const Diagnosis& diagnosis);

/// The lesser change of the station that cures (height or shift); null where there is none.
[[nodiscard]] const Cure* smallest_station_cure(const Cures& cures);

}  // namespace standpoint
