#pragma once

#include <algorithm>
#include <chrono>
#include <functional>

namespace standpoint {

/// How much time a search has left, and whether it is told to stop.
class CoverBudget {
 public:
  CoverBudget(double time_limit_s, const std::function<bool()>& is_interrupted)
      : end_(Clock::now() + std::chrono::duration_cast<Clock::duration>(
                                std::chrono::duration<double>(std::min(time_limit_s, 1e8)))),
        is_interrupted_(is_interrupted) {}

  [[nodiscard]] double left_s() const {
    return std::max(0.0, std::chrono::duration<double>(end_ - Clock::now()).count());
  }
  /// Whether to stop now. Once interrupted it stays so.
  [[nodiscard]] bool is_over() {
    was_interrupted_ = was_interrupted_ || (is_interrupted_ && is_interrupted_());
    return was_interrupted_ || left_s() <= 0;
  }
  [[nodiscard]] bool was_interrupted() const { return was_interrupted_; }

 private:
  using Clock = std::chrono::steady_clock;

  Clock::time_point end_;
  const std::function<bool()>& is_interrupted_;
  bool was_interrupted_ = false;
};

}  // namespace standpoint
