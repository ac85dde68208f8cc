#include "io/read/lists/list_faults.h"

#include <algorithm>
#include <tuple>
#include <utility>

#include <fmt/format.h>

namespace standpoint {

std::string ListFaults::where(const CsvPlace& place) const {
  return fmt::format("{}:{}:{}", file_, place.line, place.column);
}

void ListFaults::add(const CsvPlace& place, std::string value, FaultKind kind, std::string allowed,
                     std::string_view nearest) {
  keep(place, {where(place), std::move(value), std::move(allowed), kind, std::string(nearest)});
}

void ListFaults::add_for_file(std::string value, FaultKind kind, std::string allowed) {
  keep({0, 0}, {file_, std::move(value), std::move(allowed), kind, ""});
}

void ListFaults::keep(const CsvPlace& place, Fault fault) {
  if (faults_.size() >= kMostListed) {
    ++unlisted_;
    return;
  }
  faults_.push_back({place, std::move(fault)});
}

Faults ListFaults::take() {
  std::stable_sort(faults_.begin(), faults_.end(), [](const Placed& a, const Placed& b) {
    return std::tie(a.place.line, a.place.column) < std::tie(b.place.line, b.place.column);
  });
  Faults faults;
  faults.reserve(faults_.size() + 1);
  for (Placed& placed : faults_) faults.push_back(std::move(placed.fault));
  if (unlisted_ > 0) {
    faults.push_back({"", "", fmt::format("{} more faults are not listed", unlisted_),
                      FaultKind::more_faults, ""});
  }
  faults_.clear();
  unlisted_ = 0;
  return faults;
}

}  // namespace standpoint
