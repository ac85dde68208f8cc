#pragma once

#include <optional>

#include "geometry/vec.h"

namespace standpoint {

/// One-sided 95 % point of the normal distribution: the guard band in standard uncertainties by
/// which conformity is proven, and the default of ISO 14253-1:2017 (95 %).
inline constexpr double kGuardFactor = 1.6448536269514722;

enum class Conformity { proven, disproven, undecided };

/// Tolerance limits with their guard bands (ISO 14253-1). Lengths mm, or any one unit throughout.
struct GuardedLimits {
  Interval tolerance;
  double guard = 0;  ///< kGuardFactor x standard uncertainty, on either side of each limit
  /// Where a measured value proves conformity: the tolerance less a guard band at each end. Empty
  /// when the guard bands meet: then no value can prove it.
  std::optional<Interval> acceptance;
};

/// Guard bands for a measurand with standard uncertainty `standard` (>= 0). A limit may be
/// infinite. Each limit is judged alone (one-sided, as the standard has it while the uncertainty is
/// small against the tolerance). Pure. Precondition: tolerance.low <= tolerance.high.
[[nodiscard]] GuardedLimits guarded_limits(const Interval& tolerance, double standard);

/// What a measured value proves. On an edge of the acceptance interval it still proves conformity;
/// a value must lie beyond a limit by more than the guard band to disprove it.
[[nodiscard]] Conformity judge(const GuardedLimits& limits, double measured);

/// Limits of a place's deviation in one direction: a tolerance zone of full width `tolerance`
/// centred on the nominal, with expanded uncertainty `expanded` (k = 2).
/// Precondition: tolerance >= 0, expanded >= 0.
[[nodiscard]] GuardedLimits guarded_zone(double tolerance, double expanded);

/// Tolerance to uncertainty, T / (2 U); infinite for U = 0 (contract section 6).
[[nodiscard]] double tolerance_ratio(double tolerance, double expanded);

}  // namespace standpoint
