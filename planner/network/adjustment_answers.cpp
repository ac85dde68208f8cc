#include <cassert>

#include "planner/network/adjustment.h"
#include "planner/network/propagate.h"

// What a solved network answers. Signs and symbols are those of docs/uncertainty.md.

namespace standpoint {
namespace {

/// From (mm, rad x scale) to (mm, rad).
Mat6 to_radians(const Mat6& scaled, double scale) {
  Vec6 unit = Vec6::Ones();
  unit.tail<3>() /= scale;
  return unit.asDiagonal() * scaled * unit.asDiagonal();
}

template <class Matrix>
Matrix symmetric(const Matrix& m) {
  return 0.5 * (m + m.transpose());
}

}  // namespace

const Vec3& Adjustment::place(std::size_t point) const {
  if (point >= first_certain()) return input_.alignment[point - first_certain()].place;
  return point < input_.nests.size() ? input_.nests[point]
                                     : input_.datum_touches[point - input_.nests.size()].place;
}

Eigen::Matrix<double, 3, 6> Adjustment::datum_shift(const Vec3& place) const {
  return rigid_shift(place - centre_, scale_);
}

/// G_i: how station i moves when everything moves rigidly about the datum's centre.
Mat6 Adjustment::station_shift(std::size_t station) const {
  Mat6 shift = Mat6::Identity();
  shift.topRows<3>() = datum_shift(input_.stations[station]);
  return shift;
}

/// S Q S^T for one point: with S = I - G H D^T, its block is
/// Q_pp - G_p C_pm^T - C_pm G_p^T + G_p C_mm G_p^T.
Mat3 Adjustment::point_covariance(std::size_t point) const {
  Mat3 own = point_inverse_[point];
  Eigen::Matrix<double, 3, 6> with_datum = Eigen::Matrix<double, 3, 6>::Zero();
  const Eigen::Matrix<double, 3, 6> shift = datum_shift(place(point));
  if (in_datum_[point]) with_datum += point_inverse_[point] * shift;
  for (const std::uint32_t i : by_point_[point]) {
    const Sighting& a = sightings_[i];
    with_datum -= a.pull_spread.transpose() * datum_answer_.middleRows<6>(first_row(a.station));
    Mat63 carried = Mat63::Zero();
    for (const std::uint32_t j : by_point_[point]) {
      const Sighting& b = sightings_[j];
      carried += inverse_.block<6, 6>(first_row(a.station), first_row(b.station)) * b.pull_spread;
    }
    own += a.pull_spread.transpose() * carried;
  }
  const Mat3 cross = shift * (with_datum * datum_inverse_).transpose();
  return symmetric(Mat3(own - cross - cross.transpose() + propagate(shift, datum_covariance_)));
}

/// The block of S Q S^T for two stations.
Mat6 Adjustment::pose_covariance_between(std::size_t a, std::size_t b) const {
  const Mat6 of_a = station_shift(a), of_b = station_shift(b);
  const Mat6 a_with_datum = -datum_answer_.middleRows<6>(first_row(a)) * datum_inverse_;
  const Mat6 b_with_datum = -datum_answer_.middleRows<6>(first_row(b)) * datum_inverse_;
  const Mat6 both = inverse_.block<6, 6>(first_row(a), first_row(b)) -
                    of_a * b_with_datum.transpose() - a_with_datum * of_b.transpose() +
                    of_a * datum_covariance_ * of_b.transpose();
  return to_radians(both, scale_);
}

Network Adjustment::covariances() const {
  Network network;
  for (std::size_t station = 0; station < input_.stations.size(); ++station) {
    const Eigen::Index row = first_row(station);
    const Mat6 shift = station_shift(station);
    const Mat6 cross = shift * (datum_answer_.middleRows<6>(row) * -datum_inverse_).transpose();
    const Mat6 pose = inverse_.block<6, 6>(row, row) - cross - cross.transpose() +
                      propagate(shift, datum_covariance_);
    network.pose_covariance.push_back(to_radians(symmetric(pose), scale_));
  }
  for (std::size_t point = 0; point < first_certain(); ++point) {
    const Mat3 covariance = by_point_[point].empty() ? Mat3(Mat3::Zero()) : point_covariance(point);
    (point < input_.nests.size() ? network.nest_covariance : network.datum_touch_covariance)
        .push_back(covariance);
  }
  return network;
}

Response Adjustment::respond(const std::vector<Vec3>& shifts) const {
  assert(shifts.size() == sightings_.size());
  std::vector<Vec3> places(point_count(), Vec3::Zero());  // weighted means, then the adjusted
  for (std::size_t i = 0; i < sightings_.size(); ++i)
    places[sightings_[i].point] +=
        point_inverse_[sightings_[i].point] * (sightings_[i].weight * shifts[i]);
  Eigen::VectorXd stations = Eigen::VectorXd::Zero(inverse_.rows());
  for (std::size_t i = 0; i < sightings_.size(); ++i) {
    const Sighting& s = sightings_[i];
    stations.segment<6>(first_row(s.station)) -= s.pull * (shifts[i] - places[s.point]);
  }
  stations = (inverse_ * stations).eval();
  Vec6 datum = Vec6::Zero();
  for (std::size_t point = 0; point < point_count(); ++point) {
    for (const std::uint32_t i : by_point_[point]) {
      const Sighting& s = sightings_[i];
      places[point] += s.pull_spread.transpose() * stations.segment<6>(first_row(s.station));
    }
    if (in_datum_[point]) datum += datum_shift(place(point)).transpose() * places[point];
  }
  const Vec6 motion = datum_inverse_ * datum;

  Response response;
  for (std::size_t station = 0; station < input_.stations.size(); ++station) {
    Vec6 pose = stations.segment<6>(first_row(station)) - station_shift(station) * motion;
    pose.tail<3>() /= scale_;
    response.poses.push_back(pose);
  }
  for (std::size_t point = 0; point < first_certain(); ++point) {
    const Vec3 shift = by_point_[point].empty()
                           ? Vec3(Vec3::Zero())
                           : Vec3(places[point] - datum_shift(place(point)) * motion);
    (point < input_.nests.size() ? response.nests : response.datum_touches).push_back(shift);
  }
  return response;
}

/// The gain of station i on one observation o of point p by station j is
/// (U_p - U_ij B_o^T) W_o - [p in datum] G_i H G_p^T P^-1 W_o, where U_i = Q_i + G_i H T^T are the
/// rows of the generalised inverse, carried into the datum and U_p = sum over the observers of p of
/// U_ij B^T W P^-1.
std::vector<Mat6> Adjustment::pose_covariance_from(const std::vector<Mat3>& parts) const {
  assert(parts.size() == sightings_.size());
  std::vector<Mat6> result;
  for (std::size_t station = 0; station < input_.stations.size(); ++station) {
    const Mat6 to_datum = station_shift(station) * datum_inverse_;
    const Eigen::Matrix<double, 6, Eigen::Dynamic> rows =
        inverse_.middleRows<6>(first_row(station)) + to_datum * datum_answer_.transpose();
    Mat6 sum = Mat6::Zero();
    for (std::size_t point = 0; point < point_count(); ++point) {
      Mat63 common = Mat63::Zero();
      for (const std::uint32_t i : by_point_[point]) {
        const Sighting& s = sightings_[i];
        common += rows.middleCols<6>(first_row(s.station)) * s.pull_spread;
      }
      if (in_datum_[point])
        common -= to_datum * datum_shift(place(point)).transpose() * point_inverse_[point];
      for (const std::uint32_t i : by_point_[point]) {
        const Sighting& s = sightings_[i];
        const Mat63 gain = common * s.weight - rows.middleCols<6>(first_row(s.station)) * s.pull;
        sum += propagate(gain, parts[i]);
      }
    }
    result.push_back(to_radians(symmetric(sum), scale_));
  }
  return result;
}

}  // namespace standpoint
