#pragma once

#include <cstddef>

// In WebAssembly a worker has one thread: a page opened from disk has no memory that workers could
// share. Each worker owns an engine, and work is dealt out to workers, not to threads. What is
// written for oneTBB then runs as a plain loop; its answers do not depend on the number of threads
// anyway.

namespace tbb {

template <class Index, class Work>
void parallel_for(Index first, Index last, const Work& work) {
  for (Index i = first; i < last; ++i) work(i);
}

/// `range`: a blocked_range.
template <class Range, class Work>
void parallel_for(const Range& range, const Work& work) {
  if (!range.empty()) work(range);
}

}  // namespace tbb
