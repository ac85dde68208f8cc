#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "planner/planning/provisional_plan.h"

namespace standpoint {

/// Which features the part's frame is best laid on.
struct AlignmentChoice {
  std::vector<FeatureId> features;  ///< ascending; empty where none holds the frame
  std::optional<double> worst;      ///< greatest expanded uncertainty of all features, mm
  std::optional<double>
      worst_of_all;            ///< the same with all that could be taken: no choice is better
  bool is_exhaustive = false;  ///< every choice of so many was tried
};

/// At most `scene.alignment->choose` features, of those that these stations measure and that the
/// scene lets be chosen, with the smallest worst expanded uncertainty of all features (contract
/// section 13); each feature from the station that takes it when the frame is laid on all of them.
/// Every choice is tried where there are at most `kMostChoices`; else features are added one by
/// one, the best each time, and exchanged one against another until no exchange helps. More touches
/// only make every figure smaller, so all together are a bound. Of choices that do not differ
/// (`tolerance::kSameUncertainty`) the first in the scene's order. On all cores; the same answer at
/// any number of threads. O(choices x (6 stations)^3). Precondition: `scene.alignment->choose`.
[[nodiscard]] AlignmentChoice choose_alignment(const Scene& scene,
                                               const std::vector<PlannedStation>& stations);

/// The most choices that are all tried.
inline constexpr std::size_t kMostChoices = 20000;

/// What the frame is laid on for these stations: what the scene names, or the choice; empty without
/// an alignment. The rest as above.
[[nodiscard]] PlannedAlignment aligned_features(const Scene& scene,
                                                const std::vector<PlannedStation>& stations);

}  // namespace standpoint
