#include "io/read/scene/read_values.h"
#include "io/read/scene/scene_limits.h"
#include "io/read/scene/scene_parts.h"

namespace standpoint {

void read_environment(const Cursor& at, SceneReading& reading) {
  if (at.value == nullptr) return;
  const ObjectCursor object(at);
  object.allow({"part_temperature", "part_temperature_error", "expansion", "expansion_error",
                "air_temperature", "air_temperature_error", "air_pressure", "air_pressure_error",
                "humidity", "humidity_error", "wavelength_um", "gradient_error",
                "nest_repeatability"});
  const auto read = [&](std::string_view key, const NumberRule& rule, double& into,
                        double factor = 1) {
    if (const auto value = read_number(object.optional(key), rule)) into = *value * factor;
  };
  constexpr double kPerMm = 1e-3;  // of what is stated per metre
  Environment& environment = reading.scene().environment;
  environment = Environment{};
  read("part_temperature", kPartTemperature, environment.part_temperature);
  read("part_temperature_error", kTemperatureError, environment.part_temperature_error);
  read("expansion", kExpansion, environment.expansion);
  read("expansion_error", kExpansion, environment.expansion_error);
  read("air_temperature", kAirTemperature, environment.air_temperature);
  read("air_temperature_error", kTemperatureError, environment.air_temperature_error);
  read("air_pressure", kPressure, environment.air_pressure);
  read("air_pressure_error", kPressureError, environment.air_pressure_error);
  read("humidity", kHumidity, environment.humidity);
  read("humidity_error", kHumidity, environment.humidity_error);
  read("wavelength_um", kWavelength, environment.wavelength_um);
  read("gradient_error", kGradientError, environment.gradient_error, kPerMm);
  read("nest_repeatability", kUncertainty, environment.nest_repeatability, reading.mm_per_unit());
}

}  // namespace standpoint
