#include "planner/network/decision.h"

#include <cassert>
#include <limits>

namespace standpoint {

GuardedLimits guarded_limits(const Interval& tolerance, double standard) {
  assert(tolerance.low <= tolerance.high && standard >= 0);
  GuardedLimits limits{tolerance, kGuardFactor * standard, std::nullopt};
  const Interval inside{tolerance.low + limits.guard, tolerance.high - limits.guard};
  if (inside.low <= inside.high) limits.acceptance = inside;
  return limits;
}

Conformity judge(const GuardedLimits& limits, double measured) {
  if (limits.acceptance && limits.acceptance->contains(measured)) return Conformity::proven;
  if (measured < limits.tolerance.low - limits.guard ||
      measured > limits.tolerance.high + limits.guard)
    return Conformity::disproven;
  return Conformity::undecided;
}

GuardedLimits guarded_zone(double tolerance, double expanded) {
  return guarded_limits({-tolerance / 2, tolerance / 2}, expanded / 2);
}

double tolerance_ratio(double tolerance, double expanded) {
  return expanded > 0 ? tolerance / (2 * expanded) : std::numeric_limits<double>::infinity();
}

}  // namespace standpoint
