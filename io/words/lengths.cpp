#include "io/words/lengths.h"
#include "io/words/tolerances.h"

#include <cmath>
#include <numbers>

#include <fmt/format.h>

namespace standpoint {
namespace {

int decimals_for(const Scene& scene, double step_mm) {
  constexpr int kMost = 9;
  const double steps = scene.mm_per_unit / step_mm;
  int decimals = 0;
  for (double tens = 1; decimals < kMost && tens * (1 + tolerance::kDecimalsRounding) < steps;
       tens *= 10)
    ++decimals;
  return decimals;
}

}  // namespace

double to_degrees(double rad) {
  return rad * (180 / std::numbers::pi);
}

std::string fixed_text(double value, int decimals) {
  if (!std::isfinite(value)) return "-";
  std::string text = fmt::format("{:.{}f}", value, decimals);
  const bool is_zero = text.find_first_not_of("-0.") == std::string::npos;
  if (is_zero && text.front() == '-') text.erase(0, 1);
  return text;
}

std::string length_text(const Scene& scene, double mm, double step_mm) {
  return fixed_text(to_scene_units(scene, mm), decimals_for(scene, step_mm));
}

std::string length_with_unit(const Scene& scene, double mm, double step_mm) {
  return length_text(scene, mm, step_mm) + " " + scene.units;
}

std::string place_text(const Scene& scene, const Vec3& at, double step_mm) {
  return fmt::format("{}, {}, {}", length_text(scene, at.x(), step_mm),
                     length_text(scene, at.y(), step_mm), length_text(scene, at.z(), step_mm));
}

}  // namespace standpoint
