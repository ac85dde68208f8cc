#pragma once

#include <vector>

#include "planner/part/find_features.h"
#include "planner/part/round_wall.h"

namespace standpoint {

/// The holes that hollow cylinders make, those wider than `options.holes_up_to` as cylinders on the
/// inside; without names. Coaxial cylinders are one hole where faces that lead from one to the next
/// are square to their axis, of revolution about it, or tangent rounds. `taken` gets the faces that
/// belong to what was found.
[[nodiscard]] std::vector<FoundFeature> find_holes(const PartFaces& part,
                                                   const std::vector<RoundWall>& cylinders,
                                                   const FindOptions& options,
                                                   std::vector<bool>& taken);

/// What both holes and slots tell of the wall that is measured.
void describe_faces(const PartFaces& part, const std::vector<std::size_t>& faces,
                    FoundFeature& feature);

}  // namespace standpoint
