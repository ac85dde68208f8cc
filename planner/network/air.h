#pragma once

namespace standpoint {

/// The air a beam goes through.
struct Air {
  double temperature = 20;       ///< deg C, -40..100
  double pressure = 101325;      ///< Pa, 60 000..140 000
  double humidity = 0.5;         ///< relative, 0..1
  double wavelength_um = 0.633;  ///< vacuum wavelength, micrometre, 0.3..1.7
  double co2_ppm = 450;
};

/// The phase refractive index of air.
/// P. E. Ciddor, "Refractive index of air: new equations for the visible and near infrared",
/// Applied Optics 35 (1996) 1566-1573: eqs. 1 to 3, 5 and 12, densities by steps 8 and 9 of its
/// appendix B. Newer than the paper are the saturation pressure over water, IAPWS-IF97 eq. 30, and
/// the gas constant, 8.314472 J/(mol K) (CODATA 2002). Good to 2e-8 or so. Outside the ranges above
/// it extrapolates. Pure.
[[nodiscard]] double refractive_index(const Air& air);

/// How the index answers to each condition alone, at constant relative humidity and so on.
struct AirSensitivity {
  double per_kelvin = 0;
  double per_pascal = 0;
  double per_humidity = 0;  ///< per unit of relative humidity, 0 to 1
};

/// Central differences of `refractive_index`, good to about 1e-6 of themselves. Pure.
[[nodiscard]] AirSensitivity air_sensitivity(const Air& air);

}  // namespace standpoint
