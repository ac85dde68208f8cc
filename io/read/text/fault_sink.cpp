#include "io/read/text/fault_sink.h"

#include <algorithm>

namespace standpoint {

Faults FaultSink::take() {
  std::stable_sort(faults_.begin(), faults_.end(),
                   [](const Placed& a, const Placed& b) { return a.order < b.order; });
  Faults faults;
  faults.reserve(faults_.size() + 1);
  for (Placed& placed : faults_) faults.push_back(std::move(placed.fault));
  if (unlisted_ > 0) {
    faults.push_back(
        {"", "",
         fmt::vformat(fault_expected(FaultKind::more_faults), fmt::make_format_args(unlisted_)),
         FaultKind::more_faults, ""});
  }
  faults_.clear();
  unlisted_ = 0;
  return faults;
}

}  // namespace standpoint
