#pragma once

#include <algorithm>
#include <cstdint>
#include <vector>

#include <Eigen/SVD>

#include "geometry/vec.h"

namespace standpoint::test {

/// 20 x the greatest distance from the least-squares line / the greatest distance between two of
/// the places, by singular values: at least 1 is off one line (contract section 4).
inline double off_line_ratio(const std::vector<Vec3>& places) {
  Vec3 mean = Vec3::Zero();
  for (const Vec3& p : places) mean += p / static_cast<double>(places.size());
  Eigen::MatrixXd rows(places.size(), 3);
  for (std::size_t i = 0; i < places.size(); ++i)
    rows.row(static_cast<Eigen::Index>(i)) = (places[i] - mean).transpose();
  const Eigen::JacobiSVD<Eigen::MatrixXd> svd(rows, Eigen::ComputeThinU | Eigen::ComputeThinV);
  const Vec3 along = svd.matrixV().col(0);
  double far = 0, spread = 0;
  for (const Vec3& p : places) {
    far = std::max(far, ((p - mean) - along.dot(p - mean) * along).norm());
    for (const Vec3& q : places) spread = std::max(spread, (p - q).norm());
  }
  return spread > 0 ? 20 * far / spread : 0;
}

/// The greatest ratio of any set of at least `least` (and three) of the places: every one of the
/// 2^places sets is tried. 0 where there is none.
inline double greatest_off_line_ratio(const std::vector<Vec3>& places, std::size_t least) {
  double greatest = 0;
  for (std::uint32_t bits = 0; bits < 1U << places.size(); ++bits) {
    std::vector<Vec3> some;
    for (std::size_t i = 0; i < places.size(); ++i)
      if ((bits >> i & 1U) != 0) some.push_back(places[i]);
    if (some.size() >= std::max<std::size_t>(least, 3))
      greatest = std::max(greatest, off_line_ratio(some));
  }
  return greatest;
}

/// Whether one of these sets is off one line.
inline bool are_some_off_by_all_sets(const std::vector<Vec3>& places, std::size_t least) {
  for (std::uint32_t bits = 0; bits < 1U << places.size(); ++bits) {
    std::vector<Vec3> some;
    for (std::size_t i = 0; i < places.size(); ++i)
      if ((bits >> i & 1U) != 0) some.push_back(places[i]);
    if (some.size() >= std::max<std::size_t>(least, 3) && off_line_ratio(some) >= 1) return true;
  }
  return false;
}

/// Too near the limit for an oracle in double to tell.
inline bool is_at_limit(double ratio) {
  return ratio > 1 - 1e-9 && ratio < 1 + 1e-9;
}

}  // namespace standpoint::test
