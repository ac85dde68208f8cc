#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "io/read/text/fault.h"

namespace standpoint {

/// Collects the faults of one document and gives them back in its order.
///
/// Invariant: at most `kMostListed` faults are held; further ones are counted. One thread.
class FaultSink {
 public:
  static constexpr std::size_t kMostListed = 10000;

  /// Of the document that the user named: faults tell their place in it and no more.
  FaultSink() = default;
  /// Of one of several documents. `file` is how people call it; `is_told` says whether each fault's
  /// place begins with it ("hall.json#/units"), as it must where the user named another one.
  FaultSink(std::string file, bool is_told) : file_(std::move(file)), is_file_told_(is_told) {}

  /// How people call the document; empty for none.
  [[nodiscard]] const std::string& file() const { return file_; }
  /// A pointer into the document as a fault tells it.
  [[nodiscard]] std::string placed(std::string pointer) const;

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
                       {placed(std::move(where)), std::move(value),
                        fmt::vformat(fault_expected(kind), fmt::make_format_args(arguments...)),
                        kind, std::move(nearest)}});
  }

  /// Adds a fault of a file that the document names at `order`: its place is told as it is.
  void add_of_other_file(std::uint32_t order, Fault fault);

  /// Counts one fault without listing it. Precondition: full().
  void count_only() { ++unlisted_; }
  /// Whether further faults are only counted: nobody need build their text.
  [[nodiscard]] bool full() const { return faults_.size() >= kMostListed; }
  [[nodiscard]] bool empty() const { return faults_.empty(); }
  [[nodiscard]] std::size_t size() const { return faults_.size(); }

  /// All faults in document order, followed by one that counts those not listed, if any.
  [[nodiscard]] Faults take();

 private:
  friend Faults take_in_turn(const std::vector<FaultSink*>& sinks);

  struct Placed {
    std::uint32_t order;
    Fault fault;
  };
  std::string file_;
  bool is_file_told_ = false;
  std::vector<Placed> faults_;
  std::size_t unlisted_ = 0;
};

/// The faults of several documents, one document after the other, at most `kMostListed` of them;
/// followed by one that counts the rest, if any. The sinks are empty afterwards.
[[nodiscard]] Faults take_in_turn(const std::vector<FaultSink*>& sinks);

}  // namespace standpoint
