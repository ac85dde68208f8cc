#pragma once

#include <algorithm>
#include <atomic>
#include <cstddef>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

#include <tbb/blocked_range.h>
#include <tbb/global_control.h>

// In oneTBB's place for the thread sanitizer (preset `tsan`). Debian's library is built without the
// sanitizer, which therefore does not see that a task begins after it was given and has ended
// before parallel_for returns: it would tell of races where there are none. Here are the same two
// calls by plain threads, which it does see. What one iteration and another do to the same data is
// found as it is with oneTBB; the library itself is not what is tested.

namespace tbb {
namespace plain {

/// How many threads share a loop: as many as oneTBB would take, but at least two, so that there is
/// something to find; inside of another loop two. A limit of one thread is kept.
inline std::size_t threads_for(std::size_t count, bool is_inside) {
  const std::size_t limit = global_control::active_value(global_control::max_allowed_parallelism);
  if (limit == 1) return 1;
  return std::min(count, is_inside ? std::size_t{2} : std::max<std::size_t>(limit, 4));
}

inline thread_local bool is_inside = false;

/// Calls body(i) for each i below `count`, in no order. What a body throws is thrown once all
/// threads have ended.
template <class Body>
void loop(std::size_t count, const Body& body) {
  std::atomic<std::size_t> next{0};
  std::exception_ptr thrown;
  std::mutex guards_thrown;
  const auto work = [&] {
    const bool was_inside = is_inside;
    is_inside = true;
    try {
      for (std::size_t i = next++; i < count; i = next++) body(i);
    } catch (...) {  // thrown again below, by the caller's own thread
      const std::lock_guard lock(guards_thrown);
      if (!thrown) thrown = std::current_exception();
      next = count;
    }
    is_inside = was_inside;
  };
  std::vector<std::thread> others;
  for (std::size_t t = 1; t < threads_for(count, is_inside); ++t) others.emplace_back(work);
  work();
  for (std::thread& other : others) other.join();
  if (thrown) std::rethrow_exception(thrown);
}

}  // namespace plain

template <class Index, class Body>
void parallel_for(Index first, Index last, const Body& body) {
  if (last <= first) return;
  plain::loop(static_cast<std::size_t>(last - first),
              [&](std::size_t i) { body(first + static_cast<Index>(i)); });
}

/// Each part of the range is one index.
template <class Value, class Body>
void parallel_for(const blocked_range<Value>& range, const Body& body) {
  plain::loop(range.size(), [&](std::size_t i) {
    const Value at = range.begin() + static_cast<Value>(i);
    body(blocked_range<Value>(at, at + 1));
  });
}

}  // namespace tbb
