#pragma once

#include <string>

#include "standpoint/plan.h"
#include "standpoint/scene.h"

namespace standpoint {

/// stations.csv: one record a station, in the plan's order, after a header with units (RFC 4180).
/// Lists inside a field are joined by "; ". Lengths in the scene's units.
[[nodiscard]] std::string stations_csv(const Scene& scene, const Plan& plan);

/// touches.csv: one record for each touch of each feature from each station that measures it, in
/// the order stations, features, touches; then the touches of features that no station measures.
[[nodiscard]] std::string touches_csv(const Scene& scene, const Plan& plan);

}  // namespace standpoint
