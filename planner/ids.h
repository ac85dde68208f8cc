#pragma once

#include "geometry/id.h"

namespace standpoint {

using FeatureId = Id<struct FeatureTag>;
using NestId = Id<struct NestTag>;
/// A place the instrument could stand: an index into the list of candidates.
using CandidateId = Id<struct CandidateTag>;
/// A station of a finished plan, in the plan's order.
using StationId = Id<struct StationTag>;
/// A target: full targets first, in the scene's order, then offset styli.
using TargetId = Id<struct TargetTag>;

}  // namespace standpoint
