#pragma once

#include <optional>
#include <vector>

#include <Eigen/Core>

#include "geometry/vec.h"
#include "planner/plan.h"
#include "planner/scene.h"

namespace standpoint {

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

struct NetworkInput {
  std::vector<Vec3> stations;
  std::vector<Vec3> nests;  ///< only those observed at least once enter the datum
  std::vector<NestObservation> observations;
};

using Mat6 = Eigen::Matrix<double, 6, 6>;

struct Network {
  std::vector<Mat6> pose_covariance;  ///< translation mm, rotation about the station's point rad
  std::vector<Mat3> nest_covariance;  ///< mm^2; zero for a nest that nobody observes
};

/// Why there is no network.
struct Deficiency {
  std::uint32_t station = 0;  ///< the station that can still move against the rest
  int freedoms = 0;           ///< in how many ways
};

struct NetworkResult {
  std::optional<Network> network;
  std::vector<Deficiency> deficient;  ///< not empty when there is no network
};

/// Least-squares network of contract section 6: unknown are each station's pose and each nest's
/// place; free-network datum by inner constraints over all observed nests.
[[nodiscard]] NetworkResult solve_network(const NetworkInput& input);

/// The covariance of a point fixed in a station's frame, at `point` (world), from the station's
/// pose alone: J S J^T with J = [I | -[point - station]x] (contract section 6). Add the
/// observation's own.
[[nodiscard]] Mat3 carry_pose(const Mat6& pose_covariance, const Vec3& station, const Vec3& point);

/// 2 sqrt(greatest eigenvalue), mm.
[[nodiscard]] PointUncertainty point_uncertainty(const Mat3& covariance);

}  // namespace standpoint
