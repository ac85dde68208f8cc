#include "planner/network/air.h"

#include <cmath>

namespace standpoint {
namespace {

constexpr double kZeroCelsius = 273.15;       // K
constexpr double kGasConstant = 8.314472;     // J/(mol K), CODATA 2002
constexpr double kMolarMassWater = 0.018015;  // kg/mol

/// IAPWS-IF97, eq. 30: saturation pressure over water, Pa; temperature K.
double saturation_pressure(double kelvin) {
  const double theta = kelvin - 2.38555575678e-1 / (kelvin - 6.50175348448e2);
  const double a = theta * theta + 1.16705214528e3 * theta - 7.24213167032e5;
  const double b = -1.70738469401e1 * theta * theta + 1.20208247025e4 * theta - 3.23255503223e6;
  const double c = 1.49151086135e1 * theta * theta - 4.82326573616e3 * theta + 4.05113405421e5;
  const double root = 2 * c / (-b + std::sqrt(b * b - 4 * a * c));
  return 1e6 * root * root * root * root;
}

/// Ciddor eq. 12: compressibility of moist air with molar fraction of water vapour `water`.
double compressibility(double celsius, double pressure, double water) {
  const double ratio = pressure / (celsius + kZeroCelsius);
  const double first = 1.58123e-6 - 2.9331e-8 * celsius + 1.1043e-10 * celsius * celsius +
                       (5.707e-6 - 2.051e-8 * celsius) * water +
                       (1.9898e-4 - 2.376e-6 * celsius) * water * water;
  return 1 - ratio * first + ratio * ratio * (1.83e-11 - 0.765e-8 * water * water);
}

}  // namespace

double refractive_index(const Air& air) {
  const double t = air.temperature, p = air.pressure, kelvin = t + kZeroCelsius;
  const double s = 1 / (air.wavelength_um * air.wavelength_um);
  // Refractivity of dry standard air (eqs. 1 and 2) and of pure water vapour (eq. 3).
  const double dry_standard = 1e-8 * (5792105 / (238.0185 - s) + 167917 / (57.362 - s)) *
                              (1 + 5.34e-7 * (air.co2_ppm - 450));
  const double vapour_standard =
      1.022e-8 * (295.235 + 2.6422 * s - 0.03238 * s * s + 0.004028 * s * s * s);
  // The enhancement factor turns relative humidity into a molar fraction.
  const double enhancement = 1.00062 + 3.14e-8 * p + 5.60e-7 * t * t;
  const double water = air.humidity * enhancement * saturation_pressure(kelvin) / p;
  const double molar_mass_dry = 0.0289635 + 1.2011e-8 * (air.co2_ppm - 400);
  // Densities of both parts of the moist air (steps 8 and 9 of appendix B), kg/m^3.
  const double mole_density = p / (compressibility(t, p, water) * kGasConstant * kelvin);
  const double dry_density = (1 - water) * molar_mass_dry * mole_density;
  const double vapour_density = water * kMolarMassWater * mole_density;
  // Densities of dry air at 15 deg C, 101 325 Pa, and of vapour at 20 deg C, 1333 Pa.
  const double dry_density_standard =
      101325 * molar_mass_dry / (0.9995922115 * kGasConstant * 288.15);
  constexpr double vapour_density_standard = 0.00985938;
  // Eq. 5.
  return 1 + dry_density / dry_density_standard * dry_standard +
         vapour_density / vapour_density_standard * vapour_standard;
}

AirSensitivity air_sensitivity(const Air& air) {
  const auto slope = [&air](double Air::*condition, double step) {
    Air less = air, more = air;
    less.*condition -= step;
    more.*condition += step;
    return (refractive_index(more) - refractive_index(less)) / (2 * step);
  };
  // Steps small against the curvature, large against the rounding of 1 + 2.7e-4.
  return {slope(&Air::temperature, 0.1), slope(&Air::pressure, 50), slope(&Air::humidity, 0.05)};
}

}  // namespace standpoint
