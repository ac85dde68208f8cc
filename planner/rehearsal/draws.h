#pragma once

#include <cstdint>
#include <random>

#include "geometry/vec.h"

namespace standpoint {

/// Normal draws of one trial: they depend on the seed and the trial's number alone, so trials may
/// run in any order on any number of threads. (The standard library's normal distribution may
/// differ from one library to the next; this is G. E. P. Box and M. E. Muller, Ann. Math. Stat. 29
/// (1958) 610-611.) One thread.
class TrialDraws {
 public:
  /// `stream` tells apart different uses of one trial's number.
  TrialDraws(std::uint64_t seed, std::uint64_t stream, std::uint64_t trial);

  /// Standard normal.
  [[nodiscard]] double normal();
  /// Normal with covariance root root^T.
  [[nodiscard]] Vec3 normal(const Mat3& root);
  /// Unit, all directions alike.
  [[nodiscard]] Vec3 direction();

 private:
  [[nodiscard]] double uniform();  ///< in (0, 1)

  std::mt19937_64 engine_;
  double spare_ = 0;
  bool has_spare_ = false;
};

/// A root of a covariance: root root^T. Eigenvalues that rounding put below zero count as zero.
[[nodiscard]] Mat3 covariance_root(const Mat3& covariance);

}  // namespace standpoint
