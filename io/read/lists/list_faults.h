#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "io/read/text/csv_reader.h"
#include "io/read/text/fault.h"

namespace standpoint {

/// Collects the faults of one list and gives them back in the order of the file.
///
/// Invariant: at most `kMostListed` faults are held; further ones are counted. One thread.
class ListFaults {
 public:
  static constexpr std::size_t kMostListed = 10'000;

  /// `file` is what the list is called in faults.
  explicit ListFaults(std::string file) : file_(std::move(file)) {}

  /// "FILE:LINE:COLUMN".
  [[nodiscard]] std::string where(const CsvPlace& place) const;

  /// Adds what is wrong at a place; `nearest` is the name that was most likely meant, or empty.
  void add(const CsvPlace& place, std::string value, FaultKind kind, std::string allowed,
           std::string_view nearest = {});
  /// Adds what is wrong with the whole file, before all else.
  void add_for_file(std::string value, FaultKind kind, std::string allowed);

  [[nodiscard]] bool empty() const { return faults_.empty(); }
  /// All faults by line and column, followed by one that counts those not listed, if any.
  [[nodiscard]] Faults take();

 private:
  struct Placed {
    CsvPlace place;
    Fault fault;
  };
  void keep(const CsvPlace& place, Fault fault);

  std::string file_;
  std::vector<Placed> faults_;
  std::size_t unlisted_ = 0;
};

}  // namespace standpoint
