#include "geometry/tree/large_array.h"

#if defined(__linux__)
#include <sys/mman.h>
#endif

namespace standpoint {

void ask_for_large_pages([[maybe_unused]] void* p, [[maybe_unused]] std::size_t bytes) {
#if defined(__linux__)
  madvise(p, bytes, MADV_HUGEPAGE);
#endif
}

}  // namespace standpoint
