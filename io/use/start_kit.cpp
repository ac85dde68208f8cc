#include "io/use/start_kit.h"

#include "io/words/units.h"

namespace standpoint {
namespace {

FullTarget ball(std::string name, double diameter, double acceptance_deg, double aperture_deg) {
  return {std::move(name), diameter / 2, rad_from_deg(acceptance_deg), rad_from_deg(aperture_deg)};
}

}  // namespace

StartKit start_kit() {
  constexpr double kPerMetre = 1e-3;
  StartKit kit;
  kit.instrument.name = "invented instrument";
  kit.instrument.beam_diameter = 5.7;
  kit.instrument.beam_growth_rad = 0.23e-3;
  kit.instrument.range = {430, 31000};
  kit.instrument.elevation_rad = {rad_from_deg(-57), rad_from_deg(74)};
  kit.instrument.body_radius = 165;
  kit.instrument.body_above = 185;
  kit.instrument.body_below = 330;
  kit.instrument.error = {2, {0.015, 0.0069 * kPerMetre}, {0.013, 0.0008 * kPerMetre}};
  // Balls of 1.5, 7/8 and 1/2 inch (common practice); their optics are invented.
  kit.full_targets = {ball("ball-38", 38.1, 29, 41), ball("ball-22", 22.225, 28, 42),
                      ball("ball-13", 12.7, 27, 43)};
  MirrorStylus mirror;
  mirror.name = "mirror-6";
  mirror.shank = {3, 2, 20};
  mirror.length = 85;
  mirror.head_radius = 23;
  mirror.swing_rad = rad_from_deg(11);
  TwoBallStylus rod;
  rod.name = "rod-2x";
  rod.shank = {3, 3.9, 20};
  rod.ball_distances = {155, 345};
  rod.ball_radius = 6.35;
  rod.acceptance_rad = rad_from_deg(29);
  kit.offset_styli = {mirror, rod};
  return kit;
}

}  // namespace standpoint
