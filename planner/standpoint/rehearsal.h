#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "standpoint/plan.h"
#include "standpoint/scene.h"

/// \file
/// A plan tried out before anybody stands in the hall: drawn observations, adjusted as the real
/// ones will be.

namespace standpoint {

/// What is to be tried out.
struct RehearsalOrder {
  int trials = 2000;           ///< how often everything is drawn and adjusted, > 0
  std::uint64_t seed = 1;      ///< the same seed gives the same draws
  int blunder_trials = 200;    ///< of each blunder, at most `trials`
  double moved_by = 0.2;       ///< a nest moved between stations, mm (chosen here)
  double global_level = 0.05;  ///< how often a sound job is flagged by the sum of squares
  double local_level = 0.001;  ///< how often each sound observation is flagged
};

/// A feature's worst touch: its spread over the trials against the prediction, along the direction
/// in which it is predicted worst.
struct FeatureSpread {
  FeatureId feature;       ///< which one
  std::size_t touch = 0;   ///< counted over all touches that are placed, feature by feature
  Vec3 direction;          ///< unit
  double predicted = 0;    ///< standard uncertainty along it, mm
  double spread = 0;       ///< root mean square error of the trials along it, mm
  double ratio = 0;        ///< spread / predicted
  bool is_within = false;  ///< ratio within the rehearsal's bounds
};

/// Something done wrong in the hall.
enum class BlunderKind : std::uint8_t {
  swapped,  ///< two nests taken for each other from one station
  moved,    ///< a nest that moved between two stations
};

/// How often it would be caught.
struct BlunderCatch {
  BlunderKind kind = BlunderKind::swapped;  ///< what was done
  std::uint32_t nest = 0;                   ///< of the network: the swapped or moved one
  std::uint32_t other = 0;                  ///< of the network: swapped with this one
  std::uint32_t station = 0;  ///< swapped: where; moved: the first that sees it in its new place
  double size = 0;            ///< mm: how far apart the two are, or how far it moved
  double flagged_global = 0;  ///< share of the trials flagged by the sum of squares
  double flagged_local = 0;   ///< share of the trials in which some observation is flagged
  double named = 0;           ///< share in which the largest normalised residual is of that nest
  double worst_shift = 0;     ///< greatest shift of a touch by the blunder alone, mm
};

/// What came out.
struct Rehearsal {
  RehearsalOrder order;                 ///< what was asked
  int degrees_of_freedom = 0;           ///< redundant observations
  double ratio_low = 0;                 ///< lower 95 % bound of a ratio, by chi-square
  double ratio_high = 0;                ///< upper 95 % bound of a ratio, by chi-square
  std::vector<FeatureSpread> features;  ///< one for each feature that the plan measures
  double mean_square_sum =
      0;                      ///< of the weighted sums of squares; expected is `degrees of freedom`
  double flagged_global = 0;  ///< share of sound trials flagged by the sum of squares
  double flagged_local = 0;   ///< share of sound trials in which some observation is flagged
  std::vector<BlunderCatch> blunders;  ///< one for each that was tried
};

/// Simulates the observations of a plan of `scene` many times: each trial draws every observation
/// with the instrument's errors, adjusts the whole network and places every touch; then the same
/// with blunders. What is drawn and what is not: docs/uncertainty.md.
///
/// Nothing where the plan has no network that holds, its datum lies on features, or the scene
/// states no error of the instrument. On all cores; the same order gives the same rehearsal to the
/// last bit. O(trials x (observations + stations^2 + touches)). Precondition: `plan` is one of
/// `scene`, with its sights. Safe to call from many threads at once. Throws std::bad_alloc.
[[nodiscard]] std::optional<Rehearsal> rehearse(const Scene& scene, const Plan& plan,
                                                const RehearsalOrder& order = {},
                                                const Watch& watch = {});

}  // namespace standpoint
