#include "io/words/stance_words.h"

#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "geometry/vec.h"
#include "io/words/lengths.h"
#include "io/words/tolerances.h"

namespace standpoint {
namespace {

/// "0.5": a direction's part without needless digits, and without a minus before a zero.
std::string part_words(double part) {
  std::string text = fixed_text(part, 3);
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return text == "-0" ? "0" : text;
}

}  // namespace

std::string stance_words(const Vec3& up) {
  const double lean = angle_between(up, Vec3::UnitZ());
  const auto degrees = [](double angle) { return fixed_text(to_degrees(angle), 1); };
  constexpr double kRightAngle = std::numbers::pi / 2;
  if (lean <= tolerance::kToldTurn) return "upright";
  if (std::abs(lean - kRightAngle) <= tolerance::kToldTurn) return "on its side";
  if (lean < kRightAngle) return fmt::format("tilted by {} degrees", degrees(lean));
  const double off = std::numbers::pi - lean;
  if (off <= tolerance::kToldTurn) return "hanging, head down";
  return fmt::format("hanging, tilted by {} degrees", degrees(off));
}

std::string stance_with_head(const Vec3& up) {
  const std::string words = stance_words(up);
  if (words == "upright") return words;
  return fmt::format("{}, its head toward ({}, {}, {})", words, part_words(up.x()),
                     part_words(up.y()), part_words(up.z()));
}

std::string after_place(const Vec3& up) {
  return is_upright(up) ? "" : ", the instrument " + stance_with_head(up);
}

std::string where_words(const Scene& scene, const PlannedStation& station) {
  std::string words = station.zone ? scene.zones[*station.zone].name : "fixed place";
  if (!is_upright(station.up)) words += "; " + stance_words(station.up);
  return words;
}

}  // namespace standpoint
