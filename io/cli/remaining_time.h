#pragma once

#include <deque>
#include <optional>
#include <string>

#include "standpoint/plan.h"

namespace standpoint {

/// Estimates how long the present step of a job still takes, from how fast it went: over the whole
/// step and over its latter half, whichever says longer. Nothing is said before there is something
/// to go by.
class RemainingTime {
 public:
  /// `fraction` of `stage` is done (0..1, rising) at `now_s` (rising, any origin). Seconds left;
  /// nothing within the first 2 s of a stage or before a twentieth of it is done. O(1) amortised.
  [[nodiscard]] std::optional<double> left_s(Stage stage, double fraction, double now_s);

 private:
  struct Sample {
    double at_s = 0;
    double fraction = 0;
  };
  std::optional<Stage> stage_;
  Sample first_;
  std::deque<Sample> latter_half_;  ///< its front is the last sample before the latter half
};

/// "about 40 s left", rounded up so that it does not flicker: to 5 s below a minute, to half
/// minutes below ten, else to minutes.
[[nodiscard]] std::string remaining_words(double left_s);

}  // namespace standpoint
