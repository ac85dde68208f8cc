#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "io/read/text/fault.h"

namespace standpoint {

/// Collects faults and gives them back in the order of the document.
///
/// Invariant: at most `kMostListed` faults are held; further ones are counted. One thread.
class FaultSink {
 public:
  static constexpr std::size_t kMostListed = 10000;

  /// Adds one fault. `order` is the place in the document (JsonValue::order); faults of equal order
  /// stay as added. `arguments` fill what the kind expects (`fault_expected`).
  template <class... Arguments>
  void add(FaultKind kind, std::uint32_t order, std::string where, std::string value,
           const Arguments&... arguments) {
    add_near(kind, order, std::move(where), std::move(value), "", arguments...);
  }

  /// As `add`, with the name that was most likely meant; empty for none.
  template <class... Arguments>
  void add_near(FaultKind kind, std::uint32_t order, std::string where, std::string value,
                std::string nearest, const Arguments&... arguments) {
    if (full()) {
      ++unlisted_;
      return;
    }
    faults_.push_back({order,
                       {std::move(where), std::move(value),
                        fmt::vformat(fault_expected(kind), fmt::make_format_args(arguments...)),
                        kind, std::move(nearest)}});
  }

  /// Counts one fault without listing it. Precondition: full().
  void count_only() { ++unlisted_; }
  /// Whether further faults are only counted: nobody need build their text.
  [[nodiscard]] bool full() const { return faults_.size() >= kMostListed; }
  [[nodiscard]] bool empty() const { return faults_.empty(); }
  [[nodiscard]] std::size_t size() const { return faults_.size(); }

  /// All faults in document order, followed by one that counts those not listed, if any.
  [[nodiscard]] Faults take();

 private:
  struct Placed {
    std::uint32_t order;
    Fault fault;
  };
  std::vector<Placed> faults_;
  std::size_t unlisted_ = 0;
};

}  // namespace standpoint
