#include "planner/setup/unit_slip.h"

#include <array>
#include <cmath>

#include "planner/model/tolerances.h"
#include "planner/setup/rigid_fit.h"

namespace standpoint {

std::optional<double> unit_slip(const std::vector<Vec3>& read, const std::vector<Vec3>& known) {
  const auto n = static_cast<Eigen::Index>(read.size());
  Eigen::MatrixXd from(3, n), to(3, n);
  for (Eigen::Index i = 0; i < n; ++i) {
    from.col(i) = read[static_cast<std::size_t>(i)];
    to.col(i) = known[static_cast<std::size_t>(i)];
  }
  const Eigen::MatrixXd about = from.colwise() - Vec3(from.rowwise().mean());
  if (about.isZero(0)) return std::nullopt;
  const Similarity best = best_similarity(from, to);
  const Eigen::MatrixXd lever = to.colwise() - Vec3(to.rowwise().mean());
  const double spread = std::sqrt(lever.squaredNorm() / static_cast<double>(n));
  if (std::sqrt(best.mean_square) > tolerance::kUnitMisfit * spread) return std::nullopt;
  constexpr std::array<double, 5> kLengths{1, 10, 1000, 25.4, 304.8};  // mm, cm, m, in, ft
  for (const double meant : kLengths) {
    for (const double taken : kLengths) {
      const double ratio = meant / taken;
      if (ratio != 1 && std::abs(best.scale / ratio - 1) <= tolerance::kUnitSlack)
        return best.scale;
    }
  }
  return std::nullopt;
}

}  // namespace standpoint
