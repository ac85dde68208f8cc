#include "io/read/text/fault_sink.h"

#include <algorithm>

namespace standpoint {

std::string FaultSink::placed(std::string pointer) const {
  if (!is_file_told_) return pointer;
  return pointer.empty() ? file_ : file_ + "#" + pointer;
}

void FaultSink::add_of_other_file(std::uint32_t order, Fault fault) {
  if (full()) {
    ++unlisted_;
  } else {
    faults_.push_back({order, std::move(fault)});
  }
}

namespace {

void add_count(std::size_t unlisted, Faults& faults) {
  if (unlisted == 0) return;
  faults.push_back(
      {"", "",
       fmt::vformat(fault_expected(FaultKind::more_faults), fmt::make_format_args(unlisted)),
       FaultKind::more_faults, ""});
}

}  // namespace

Faults FaultSink::take() {
  return take_in_turn({this});
}

Faults take_in_turn(const std::vector<FaultSink*>& sinks) {
  Faults faults;
  std::size_t unlisted = 0;
  for (FaultSink* sink : sinks) {
    std::stable_sort(sink->faults_.begin(), sink->faults_.end(),
                     [](const auto& a, const auto& b) { return a.order < b.order; });
    unlisted += sink->unlisted_;
    for (FaultSink::Placed& placed : sink->faults_) {
      if (faults.size() < FaultSink::kMostListed) {
        faults.push_back(std::move(placed.fault));
      } else {
        ++unlisted;
      }
    }
    sink->faults_.clear();
    sink->unlisted_ = 0;
  }
  add_count(unlisted, faults);
  return faults;
}

}  // namespace standpoint
