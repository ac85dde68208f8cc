#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include <Eigen/Core>

#include "geometry/vec.h"
#include "planner/network/deficiency.h"
#include "planner/network/motion.h"
#include "standpoint/plan.h"
#include "standpoint/scene.h"

namespace standpoint {

using Mat6 = Eigen::Matrix<double, 6, 6>;
using Vec6 = Eigen::Matrix<double, 6, 1>;

/// The covariance of one observation of a point at `target` from `station`, mm^2, world frame:
/// radial variance along the beam, transverse variance across it (contract section 6).
/// Precondition: target != station.
[[nodiscard]] Mat3 observation_covariance(const InstrumentError& error, const Vec3& station,
                                          const Vec3& target);

/// A nest seen from a station.
struct NestObservation {
  std::uint32_t station = 0;
  std::uint32_t nest = 0;
  Mat3 covariance = Mat3::Identity();  ///< of the observed place, world frame, mm^2
};

/// A touch of a feature that the datum is laid on: seen once, from one station.
struct DatumTouch {
  std::uint32_t station = 0;
  Vec3 place = Vec3::Zero();           ///< optical centre, world, mm
  Mat3 covariance = Mat3::Identity();  ///< of the observed place, world frame, mm^2
};

/// A touch that the part's own frame is laid on (contract section 13): along the directions it
/// holds, what is measured is where the nominal part has it.
struct AlignmentTouch {
  std::uint32_t station = 0;
  Vec3 place = Vec3::Zero();           ///< that is read, world, mm
  std::vector<Vec3> held = {};         ///< orthonormal, one to three
  Mat3 covariance = Mat3::Identity();  ///< of the observed place, world frame, mm^2
};

/// The covariance with no direction better than `tolerance::kLeastSigma`, as the network takes it.
[[nodiscard]] Mat3 floored(const Mat3& covariance);

/// What an observation weighs: the inverse of its floored covariance, 1/mm^2.
[[nodiscard]] Mat3 weight_of(const Mat3& covariance);

/// The inverse of such a touch's covariance, and that of the part's form (standard uncertainty
/// `form`, mm), along the directions that it holds; nothing across them. 1/mm^2. Pure.
[[nodiscard]] Mat3 alignment_weight(const AlignmentTouch& touch, double form);

/// What is observed. Nominal places, world frame, mm. Covariances are symmetric and positive
/// semidefinite; directions better than `tolerance::kLeastSigma` are taken as that good.
struct NetworkInput {
  std::vector<Vec3> stations = {};
  std::vector<Vec3> nests = {};  ///< only those observed at least once enter the datum
  std::vector<NestObservation> observations = {};
  /// The datum: these nests (as far as they are observed) and touches. Both empty: all observed
  /// nests (contract section 6).
  std::vector<std::uint32_t> datum_nests = {};
  std::vector<DatumTouch> datum_touches = {};
  /// The part's frame, in place of a datum: where there are any, the two above are empty.
  std::vector<AlignmentTouch> alignment = {};
  /// Standard uncertainty of the part's form along each direction that is held, mm.
  double form = 0;
};

struct Network {
  std::vector<Mat6> pose_covariance;  ///< translation mm, rotation about the station's point rad
  std::vector<Mat3> nest_covariance;  ///< mm^2; zero for a nest that nobody observes
  /// Of each `NetworkInput::datum_touches`, mm^2. Such a touch helps to hold the datum, so it is
  /// correlated with its station's pose: this replaces the sum of pose and observation.
  std::vector<Mat3> datum_touch_covariance;
};

struct NetworkResult {
  std::optional<Network> network;
  std::vector<Deficiency> deficient;  ///< stations that can move: there is no network
  std::vector<Motion> free;  ///< of the part's frame, which its alignment leaves free: nor then
};

/// Least-squares network of contract section 6: unknown are each station's pose and each nest's
/// place; free-network datum by inner constraints over the datum points (their shifts sum to zero,
/// and so do their rotations about their centroid), observations linearised about the nominal
/// places. With an alignment no inner constraints: its touches are observations more, of places
/// that are certain along the directions they hold. Where a station can still move, or the datum or
/// the alignment does not hold, there is no network and it says what moves. No stations: an empty
/// network. Pure; one thread; the same input gives the same bits. O(sum over nests of observers^2 +
/// (6 stations)^3). docs/uncertainty.md. For more than the covariances, see `adjust`.
[[nodiscard]] NetworkResult solve_network(const NetworkInput& input);

/// The covariance of a point fixed in a station's frame, at `point` (world), from the station's
/// pose alone: J S J^T with J = [I | -[point - station]x] (contract section 6). Add the
/// observation's own.
[[nodiscard]] Mat3 carry_pose(const Mat6& pose_covariance, const Vec3& station, const Vec3& point);

/// The unit direction of a covariance's greatest eigenvalue, of either sign the one whose greatest
/// component is positive: the same for the same covariance.
[[nodiscard]] Vec3 greatest_direction(const Mat3& covariance);

/// 2 sqrt(greatest eigenvalue), mm. An eigenvalue that rounding put below zero counts as zero.
[[nodiscard]] PointUncertainty point_uncertainty(const Mat3& covariance);

}  // namespace standpoint
