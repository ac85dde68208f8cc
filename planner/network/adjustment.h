#pragma once

#include <optional>
#include <vector>

#include <Eigen/Core>

#include "planner/network/network.h"
#include "standpoint/shapes.h"

namespace standpoint {

/// What small shifts of the observed places do to the adjusted network, in its datum or alignment.
struct Response {
  std::vector<Vec6> poses;          ///< translation mm, rotation about the station's point rad
  std::vector<Vec3> nests;          ///< mm; zero for a nest that nobody observes
  std::vector<Vec3> datum_touches;  ///< mm
};

/// A least-squares network, reduced and solved: every question about it that is linear.
///
/// Immutable; safe to query from many threads. Made by `adjust`. docs/uncertainty.md derives it.
class Adjustment {
 public:
  [[nodiscard]] const NetworkInput& input() const { return input_; }

  /// The centroid of the datum points, or of the places that the alignment touches, mm.
  [[nodiscard]] const Vec3& datum_centre() const { return centre_; }

  /// The covariances of contract section 6. O(observations x observers of a nest).
  [[nodiscard]] Network covariances() const;

  /// The covariance of one station's pose with another's (the first gives the rows; of a station
  /// with itself its own): translation mm, rotation about the station's point rad. O(1).
  /// Preconditions: stations of the input.
  [[nodiscard]] Mat6 pose_covariance_between(std::size_t a, std::size_t b) const;

  /// How the adjusted poses and places answer when each observed place is shifted by `shifts` (mm,
  /// world): the input's observations in order, then its datum touches, then its alignment. Linear
  /// in `shifts`. A rigid motion of all observations of one station is answered by its pose alone.
  /// O(observations + (6 stations)^2). Precondition: the sizes match.
  [[nodiscard]] Response respond(const std::vector<Vec3>& shifts) const;

  /// The part of each station's pose covariance that comes from `parts`: independent covariances of
  /// the observed places (mm^2, in the order of `respond`), under the weights of this network.
  /// With the input's own covariances: `covariances().pose_covariance`. O(stations x observations).
  /// Precondition: the sizes match.
  [[nodiscard]] std::vector<Mat6> pose_covariance_from(const std::vector<Mat3>& parts) const;

 private:
  friend struct AdjustmentBuilder;
  Adjustment() = default;

  using Mat63 = Eigen::Matrix<double, 6, 3>;

  /// One observation of a point: a nest, behind the nests a datum touch, behind those a place of
  /// the alignment, which is certain.
  struct Sighting {
    std::uint32_t station = 0;
    std::uint32_t point = 0;
    Mat3 weight = Mat3::Zero();         ///< W, inverse covariance
    Mat63 pull = Mat63::Zero();         ///< B^T W
    Mat63 pull_spread = Mat63::Zero();  ///< B^T W P^-1
  };

  [[nodiscard]] Eigen::Matrix<double, 3, 6> datum_shift(const Vec3& place) const;
  [[nodiscard]] Mat6 station_shift(std::size_t station) const;
  [[nodiscard]] const Vec3& place(std::size_t point) const;
  [[nodiscard]] std::size_t first_certain() const {
    return input_.nests.size() + input_.datum_touches.size();
  }
  [[nodiscard]] std::size_t point_count() const { return point_inverse_.size(); }
  [[nodiscard]] Mat3 point_covariance(std::size_t point) const;

  NetworkInput input_;
  double scale_ = 1;                                  ///< rotations are kept as rad x scale, mm
  Vec3 centre_ = Vec3::Zero();                        ///< of the datum points
  std::vector<Sighting> sightings_;                   ///< in the order of `respond`
  std::vector<std::vector<std::uint32_t>> by_point_;  ///< sightings of each point
  std::vector<Mat3> point_inverse_;  ///< P^-1; zero for an unobserved nest and a certain place
  std::vector<bool> in_datum_;       ///< for each point
  Eigen::MatrixXd inverse_;          ///< generalised inverse of the reduced normal matrix
  // With an alignment nothing is carried into a datum: these are zero.
  Mat6 datum_inverse_;            ///< H
  Eigen::MatrixXd datum_pull_;    ///< F, 6 rows a station
  Eigen::MatrixXd datum_answer_;  ///< T = inverse_ F
  Mat6 datum_covariance_;         ///< of the datum's rigid motion, C_mm
};

struct AdjustmentResult {
  std::optional<Adjustment> adjustment;
  std::vector<Deficiency> deficient;  ///< as in NetworkResult
  std::vector<Motion> free;           ///< as in NetworkResult
};

/// Reduces and solves a network (see `solve_network` for what is solved and when it fails).
[[nodiscard]] AdjustmentResult adjust(NetworkInput input);

}  // namespace standpoint
