#pragma once

#include <atomic>
#include <functional>

namespace standpoint {

enum class Stage { candidates, reach, stations, choose, network };

/// How a long job tells how far it is, and is told to stop.
struct Watch {
  /// Called from one thread at a time; fraction in 0..1 of the stage. May be empty.
  std::function<void(Stage stage, double fraction)> progress;
  /// Set from outside (a signal handler): the job ends soon and says it was interrupted.
  const std::atomic<bool>* interrupted = nullptr;
  /// For the integer programs together, s.
  double time_limit_s = 120;

  [[nodiscard]] bool is_interrupted() const {
    return interrupted != nullptr && interrupted->load(std::memory_order_relaxed);
  }
  void tell(Stage stage, double fraction) const {
    if (progress) progress(stage, fraction);
  }
};

}  // namespace standpoint
