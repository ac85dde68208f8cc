#include "instrument.h"

namespace standpoint::scenes {

Json instrument() {
  return {{"name", "invented 40 m instrument"},
          {"beam", {{"diameter", 6.0}, {"growth_mrad", 0.2}}},
          {"range", {400, 40000}},
          {"elevation", {-60, 75}},
          {"body", {{"radius", 160}, {"above", 180}, {"below", 320}}},
          {"error",
           {{"coverage_factor", 2},
            {"transverse", {{"fixed", 0.015}, {"per_metre", 0.006}}},
            {"radial", {{"fixed", 0.010}, {"per_metre", 0.0005}}}}}};
}

Json ball_38() {
  return {{"name", "ball-38"}, {"diameter", 38.1}, {"acceptance", 30}, {"aperture", 42}};
}

Json mirror_stylus() {
  return {{"name", "mirror-100-6"}, {"kind", "mirror"},    {"tip_diameter", 6}, {"length", 100},
          {"shank_diameter", 4},    {"head_diameter", 50}, {"swing", 12},       {"error", 0.01}};
}

Json two_ball_rod() {
  return {{"name", "rod-2x"},      {"kind", "two-ball"},
          {"tip_diameter", 6},     {"ball_distances", {150, 350}},
          {"ball_diameter", 12.7}, {"shank_diameter", 8},
          {"acceptance", 30},      {"error", 0.01}};
}

}  // namespace standpoint::scenes
