#include "io/cli/progress.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <ostream>

#include <fmt/format.h>

namespace standpoint {
namespace {

std::string_view stage_words(Stage stage) {
  switch (stage) {
    case Stage::candidates:
      return "generating places for the instrument";
    case Stage::reach:
      return "tracing beams";
    case Stage::stations:
      return "choosing the fewest stations";
    case Stage::choose:
      return "comparing plans that are equal so far";
    case Stage::network:
      return "predicting uncertainty";
  }
  return "";
}

constexpr const char* kClearLine = "\r\x1b[K";

}  // namespace

void ProgressLine::say(const std::string& text) {
  if (!is_shown_ || text == last_) return;
  last_ = text;
  *err_ << kClearLine << text << std::flush;
}

void ProgressLine::tell(Stage stage, double fraction) {
  const double percent = std::floor(100 * std::clamp(fraction, 0.0, 1.0));
  const double now_s =
      std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
  const auto left_s = remaining_.left_s(stage, fraction, now_s);
  say(fmt::format("{} {:3.0f} %{}", stage_words(stage), percent,
                  left_s ? ", " + remaining_words(*left_s) : ""));
}

void ProgressLine::clear() {
  if (last_.empty()) return;
  *err_ << kClearLine << std::flush;
  last_.clear();
}

}  // namespace standpoint
