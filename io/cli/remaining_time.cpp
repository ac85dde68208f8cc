#include "io/cli/remaining_time.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace standpoint {

std::optional<double> RemainingTime::left_s(Stage stage, double fraction, double now_s) {
  if (stage_ != stage) {
    stage_ = stage;
    first_ = {now_s, fraction};
    latter_half_.assign(1, first_);
    return std::nullopt;
  }
  constexpr double kShortest = 2, kLeastDone = 0.05;
  const double elapsed = now_s - first_.at_s;
  latter_half_.push_back({now_s, fraction});
  while (latter_half_.size() > 2 && latter_half_[1].at_s <= first_.at_s + elapsed / 2)
    latter_half_.pop_front();
  const double done = fraction - first_.fraction;
  if (elapsed < kShortest || done < kLeastDone) return std::nullopt;
  const double overall = elapsed / done;
  const Sample& half = latter_half_.front();
  const double lately = (now_s - half.at_s) / std::max(fraction - half.fraction, 1e-3);
  return (1 - fraction) * std::max(overall, lately);
}

std::string remaining_words(double left_s) {
  const auto up_to = [&](double step) { return step * std::ceil(left_s / step); };
  if (up_to(5) < 60) return fmt::format("about {:.0f} s left", up_to(5));
  if (up_to(30) < 600) return fmt::format("about {:g} min left", up_to(30) / 60);
  return fmt::format("about {:.0f} min left", up_to(60) / 60);
}

}  // namespace standpoint
