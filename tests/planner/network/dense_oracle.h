#pragma once

#include "networks.h"

// The network solved the long way, sharing nothing with the code under test: Jacobians by
// differences of the non-linear range, azimuth and elevation model, one dense bordered system.

namespace standpoint::testing {

struct DenseAnswer {
  std::vector<Mat6> poses;
  std::vector<Mat3> nests;
  std::vector<Mat3> datum_touches;
};

/// Unknowns: 6 a station (rotations times kArm), then 3 a point. Precondition: every nest observed,
/// covariances those of the polar model for `error`.
class DenseOracle {
 public:
  DenseOracle(const NetworkInput& input, const InstrumentError& error) : input_(input) {
    for (const Vec3& nest : input.nests) points_.push_back(nest);
    for (const DatumTouch& touch : input.datum_touches) points_.push_back(touch.place);
    const auto size = static_cast<Eigen::Index>(6 * input.stations.size() + 3 * points_.size());
    normal_ = Eigen::MatrixXd::Zero(size, size);
    for (const NestObservation& o : input.observations) add(o.station, o.nest, error);
    for (std::size_t i = 0; i < input.datum_touches.size(); ++i)
      add(input.datum_touches[i].station, input.nests.size() + i, error);
  }

  [[nodiscard]] DenseAnswer answer() const {
    const Eigen::Index size = normal_.rows();
    Eigen::MatrixXd bordered = Eigen::MatrixXd::Zero(size + 6, size + 6);
    const double weight = normal_.diagonal().mean();
    bordered.topLeftCorner(size, size) = normal_ / weight;
    bordered.bottomLeftCorner(6, size) = constraints();
    bordered.topRightCorner(size, 6) = constraints().transpose();
    const Eigen::MatrixXd inverse =
        bordered.fullPivLu().inverse().topLeftCorner(size, size) / weight;
    DenseAnswer answer;
    Vec6 unit = Vec6::Ones();
    unit.tail<3>() /= kArm;
    for (std::size_t s = 0; s < input_.stations.size(); ++s) {
      const auto at = static_cast<Eigen::Index>(6 * s);
      answer.poses.push_back(unit.asDiagonal() * inverse.block<6, 6>(at, at) * unit.asDiagonal());
    }
    for (std::size_t p = 0; p < points_.size(); ++p) {
      const Eigen::Index at = column(p);
      (p < input_.nests.size() ? answer.nests : answer.datum_touches)
          .push_back(inverse.block<3, 3>(at, at));
    }
    return answer;
  }

 private:
  static constexpr double kArm = 2000;

  [[nodiscard]] Eigen::Index column(std::size_t point) const {
    return static_cast<Eigen::Index>(6 * input_.stations.size() + 3 * point);
  }

  void add(std::uint32_t station, std::size_t point, const InstrumentError& error) {
    const Vec3 local = points_[point] - input_.stations[station];
    const Vec3 sigma = polar_sigma(error, local);
    Eigen::MatrixXd row = Eigen::MatrixXd::Zero(3, normal_.rows());
    for (int k = 0; k < 9; ++k) {
      const double step = 1e-2;  // mm, or mm at the end of kArm
      const auto model = [&](double by) {
        Vec6 pose = Vec6::Zero();
        Vec3 shift = Vec3::Zero();
        (k < 6 ? pose[k] : shift[k - 6]) = by;
        pose.tail<3>() /= kArm;
        return polar<double>(seen(input_.stations[station], pose, points_[point] + shift));
      };
      Vec3 difference = model(step) - model(-step);
      for (int angle = 1; angle < 3; ++angle)
        difference[angle] = std::remainder(difference[angle], 2 * M_PI);
      row.col(k < 6 ? 6 * station + k : column(point) + k - 6) =
          (difference / (2 * step)).cwiseQuotient(sigma);
    }
    normal_ += row.transpose() * row;
  }

  /// Sums of the datum points' shifts, and of their moments about the centroid.
  [[nodiscard]] Eigen::MatrixXd constraints() const {
    std::vector<std::size_t> datum;
    const bool all = input_.datum_nests.empty() && input_.datum_touches.empty();
    for (std::size_t p = 0; p < points_.size(); ++p) {
      bool in = all || p >= input_.nests.size();
      for (const std::uint32_t n : input_.datum_nests) in = in || n == p;
      if (in) datum.push_back(p);
    }
    Vec3 centre = Vec3::Zero();
    for (const std::size_t p : datum) centre += points_[p] / static_cast<double>(datum.size());
    Eigen::MatrixXd rows = Eigen::MatrixXd::Zero(6, normal_.rows());
    for (const std::size_t p : datum) {
      const Vec3 r = (points_[p] - centre) / kArm;
      for (int k = 0; k < 3; ++k) {
        Vec3 shift = Vec3::Unit(k);
        rows(k, column(p) + k) += 1;
        rows.block<3, 1>(3, column(p) + k) += r.cross(shift);
      }
    }
    return rows;
  }

  const NetworkInput& input_;
  std::vector<Vec3> points_;
  Eigen::MatrixXd normal_;
};

}  // namespace standpoint::testing
