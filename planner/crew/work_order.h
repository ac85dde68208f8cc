#pragma once

#include <optional>
#include <vector>

#include "standpoint/plan.h"
#include "standpoint/scene.h"

namespace standpoint {

// In which order a station's work is done, so that the same target is kept as long as may be.

enum class WorkStage {
  alignment,    ///< the features that hold the part's frame, before all else
  nests_first,  ///< every nest, before the other features
  features,
  nests_again,  ///< the same nests at the end: what has drifted meanwhile shows
};

/// What is done with the same target kept.
struct TargetTurn {
  WorkStage stage = WorkStage::features;
  TargetId target;
  /// Used before it, here or at the station before; nothing at the plan's very start.
  std::optional<TargetId> before;
  std::vector<NestId> nests;        ///< in the scene's order; none in the features' stage
  std::vector<FeatureId> features;  ///< in the scene's order; none in the nests' stages

  [[nodiscard]] bool is_change() const { return before && *before != target; }
};

struct StationWork {
  std::vector<TargetTurn> turns;
};

/// The work of each station of the plan, in the plan's order: features of the alignment, nests,
/// features by full target, features by offset stylus, nests again. In each of these stages a
/// target has one turn. Of all such orders, over the whole plan in its stations' order, one with
/// the fewest changes of target; of equal ones the targets come as the scene has them. A feature is
/// measured from its station and from those in `also_from`, or from those that share it. Pure.
/// O(stations x targets^3 + features
/// + nests).
[[nodiscard]] std::vector<StationWork> order_work(const Scene& scene, const Plan& plan);

/// How often the target is changed in all.
[[nodiscard]] std::size_t count_changes(const std::vector<StationWork>& work);

/// Whether the feature is measured from that station: as its main one, as a further one or as one
/// that takes some of its touches.
[[nodiscard]] bool is_measured_from(const PlannedFeature& planned, StationId station);

/// Whether the feature is told at that station: at its main one, and at all that share it.
[[nodiscard]] bool is_told_at(const PlannedFeature& planned, StationId station);

/// The mark by which that station measures the feature: in its sight; of a feature that several
/// share, what they see together. Precondition: is_measured_from(planned, station).
[[nodiscard]] const FeatureMark& mark_at(const Plan& plan, const PlannedFeature& planned,
                                         StationId station);

/// Whether that station takes this touch of `mark_at`, where the feature's target reaches it: of a
/// feature that several share each takes its own.
[[nodiscard]] bool is_taken_from(const PlannedFeature& planned, StationId station,
                                 std::size_t touch);

/// The mark with no more than that station takes: its touches by target, and their least margin. A
/// copy. Precondition: as mark_at.
[[nodiscard]] FeatureMark mark_from(const Plan& plan, const PlannedFeature& planned,
                                    StationId station);

}  // namespace standpoint
