#pragma once

#include <atomic>
#include <iosfwd>

namespace standpoint {

/// Where a run talks to, and how it is told to stop.
struct Console {
  std::ostream& out;
  std::ostream& err;
  bool shows_progress = false;  ///< err is a terminal
  const std::atomic<bool>* interrupted = nullptr;

  [[nodiscard]] bool is_interrupted() const {
    return interrupted != nullptr && interrupted->load(std::memory_order_relaxed);
  }
};

/// How a run ends (contract section 5).
enum class Exit {
  done = 0,
  blocked = 1,      ///< done, but something required is blocked
  wrong_input = 2,  ///< nothing was written
  failed = 3,       ///< a resource failed: disk, memory, interrupted
};

}  // namespace standpoint
