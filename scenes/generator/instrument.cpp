#include "instrument.h"

namespace standpoint::scenes {

// Every figure here is invented. Balls of 38.1 mm and 12.7 mm are round figures in inches.

Json instrument() {
  return {{"name", "invented instrument"},
          {"beam", {{"diameter", 6.0}, {"growth_mrad", 0.2}}},
          {"range", {400, 40000}},
          {"elevation", {-60, 75}},
          {"body", {{"radius", 160}, {"above", 180}, {"below", 320}}},
          {"error",
           {{"coverage_factor", 2},
            {"transverse", {{"fixed", 0.014}, {"per_metre", 0.0075}}},
            {"radial", {{"fixed", 0.012}, {"per_metre", 0.0009}}}}}};
}

Json ball_38() {
  return {{"name", "ball-38"}, {"diameter", 38.1}, {"acceptance", 30}, {"aperture", 42}};
}

Json mirror_stylus() {
  return {{"name", "mirror-6"},  {"kind", "mirror"},    {"tip_diameter", 6}, {"length", 85},
          {"shank_diameter", 4}, {"head_diameter", 46}, {"swing", 11},       {"error", 0.009}};
}

Json two_ball_rod() {
  return {{"name", "rod-2x"},      {"kind", "two-ball"},
          {"tip_diameter", 6},     {"ball_distances", {150, 350}},
          {"ball_diameter", 12.7}, {"shank_diameter", 8},
          {"acceptance", 30},      {"error", 0.013}};
}

}  // namespace standpoint::scenes
