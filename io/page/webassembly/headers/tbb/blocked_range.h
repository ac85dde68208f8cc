#pragma once

#include <cstddef>

namespace tbb {

/// A range that one thread takes whole; so the size of its pieces is of no use here.
template <class Value>
class blocked_range {
 public:
  blocked_range(Value first, Value last, std::size_t /*grain*/ = 1) : first_(first), last_(last) {}

  [[nodiscard]] Value begin() const { return first_; }
  [[nodiscard]] Value end() const { return last_; }
  [[nodiscard]] bool empty() const { return !(first_ < last_); }

 private:
  Value first_, last_;
};

}  // namespace tbb
