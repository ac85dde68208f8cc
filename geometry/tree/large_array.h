#pragma once

#include <cstddef>
#include <cstdlib>
#include <new>
#include <vector>

namespace standpoint {

/// Tells the system that the pages of [p, p + bytes) may be large. Does nothing where it has none.
void ask_for_large_pages(void* p, std::size_t bytes);

/// Allocates large arrays on pages of 2 MiB where the system has them.
///
/// A walk through a tree touches a dozen places all over it; on pages of 4 KiB nearly each of them
/// costs a walk through the page table as well (docs/speed.md has the figures). Only a hint: where
/// the system declines, the pages are small. Throws std::bad_alloc as any allocator.
template <class T>
struct LargePages {
  using value_type = T;

  LargePages() = default;
  template <class U>
  explicit LargePages(const LargePages<U>&) {}

  [[nodiscard]] T* allocate(std::size_t n) {
    const std::size_t bytes = n * sizeof(T);
    const std::size_t page = bytes >= kPage ? kPage : 64;
    void* p = ::operator new(bytes, std::align_val_t(page));
    if (bytes >= kPage) ask_for_large_pages(p, bytes);
    return static_cast<T*>(p);
  }
  void deallocate(T* p, std::size_t n) {
    const std::size_t page = n * sizeof(T) >= kPage ? kPage : 64;
    ::operator delete(p, std::align_val_t(page));
  }
  template <class U>
  friend bool operator==(const LargePages&, const LargePages<U>&) {
    return true;
  }

 private:
  static constexpr std::size_t kPage = std::size_t{2} << 20;
};

template <class T>
using LargeArray = std::vector<T, LargePages<T>>;

}  // namespace standpoint
