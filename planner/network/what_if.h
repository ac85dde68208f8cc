#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <vector>

#include "planner/network/network.h"
#include "planner/network/touch_uncertainty.h"
#include "standpoint/scene.h"

namespace standpoint {

// What holds a network up, found by doing without it, or with more.

/// A touch whose uncertainty is looked at.
struct WatchedTouch {
  FeatureId feature;
  std::uint32_t station = 0;  ///< that reads it, index into the network's stations
  Reading reading;
  Mat3 own = Mat3::Zero();  ///< the reading's own covariance, mm^2
  /// Index into NetworkInput::datum_touches where the datum is laid on this touch: its covariance
  /// is then the network's for it.
  std::optional<std::uint32_t> datum_touch = {};
};

/// A feature's expanded uncertainty: that of its worst touch (the first of equals).
struct FeatureUncertainty {
  FeatureId feature;
  std::size_t touch = 0;  ///< index into the watched touches
  double expanded = 0;    ///< mm
};

/// For each feature that has watched touches, ascending.
[[nodiscard]] std::vector<FeatureUncertainty> feature_uncertainties(
    const Network& network, const NetworkInput& input, const std::vector<WatchedTouch>& touches);

/// What a changed network is worth to the features.
struct WhatIf {
  std::optional<FeatureUncertainty> worst;  ///< empty: no network any more, or nothing watched
  /// The feature that changes most (greatest ratio after / before), after the change.
  std::optional<FeatureUncertainty> most_changed;
  double ratio = 1;                        ///< after / before, of `most_changed`
  std::vector<Deficiency> deficient = {};  ///< what can move, where there is no network any more
};

/// For each nest of the input (unobserved ones too), what is left when it is knocked off: its
/// observations are gone, and so it is no part of the datum. Solves each network anew, on all
/// cores; neither the order of the result nor its bits depend on them. Precondition: the input
/// itself has a network. O(nests x solve_network).
[[nodiscard]] std::vector<WhatIf> leave_one_out(const NetworkInput& input,
                                                const std::vector<WatchedTouch>& touches);

/// Something that could be added: nests and stations get the next indices of the input's lists.
struct Addition {
  std::vector<Vec3> stations = {};
  std::vector<Vec3> nests = {};
  std::vector<NestObservation> observations = {};
};

/// For each addition alone, what the network is worth with it. The datum stays the input's; an
/// empty one (all observed nests) takes in new nests, as contract section 6 has it. Otherwise as
/// `leave_one_out`.
[[nodiscard]] std::vector<WhatIf> with_each(const NetworkInput& input,
                                            const std::vector<WatchedTouch>& touches,
                                            const std::vector<Addition>& additions);

/// Why a touch is as uncertain as it is.
enum class Reason : std::uint8_t {
  range,          ///< the instrument's own error at that distance
  stylus,         ///< what the stylus adds to a sight of the tip itself
  weak_tie,       ///< the pose, as it is at the centroid of the nests that the station sees
  extrapolation,  ///< the pose, as it grows from that centroid to the touch
};

/// The uncertainty of a feature's worst touch, taken apart along its greatest direction.
struct WorstContributor {
  FeatureUncertainty uncertainty;
  Reason reason = Reason::range;   ///< the greatest share (the first of equals)
  std::array<double, 4> shares{};  ///< of the variance, in the order of Reason; they sum to 1
  Vec3 direction;                  ///< unit, of the greatest uncertainty
};

/// The `count` features with the greatest expanded uncertainty (or fewer), worst first, equals by
/// feature, and why. Precondition: `network` is that of `input`. O(touches log touches).
[[nodiscard]] std::vector<WorstContributor> worst_features(const Network& network,
                                                           const NetworkInput& input,
                                                           const InstrumentError& error,
                                                           const std::vector<WatchedTouch>& touches,
                                                           std::size_t count);

}  // namespace standpoint
