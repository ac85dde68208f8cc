#include "io/read/scene/read_values.h"
#include "io/read/scene/scene_limits.h"
#include "io/read/scene/scene_parts.h"

namespace standpoint {

void read_room(const Cursor& at, Scene& scene) {
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
  Room& room = scene.room;
  read("part_temperature", kPartTemperature, room.part_temperature);
  read("part_temperature_error", kTemperatureError, room.part_temperature_error);
  read("expansion", kExpansion, room.expansion);
  read("expansion_error", kExpansion, room.expansion_error);
  read("air_temperature", kAirTemperature, room.air_temperature);
  read("air_temperature_error", kTemperatureError, room.air_temperature_error);
  read("air_pressure", kPressure, room.air_pressure);
  read("air_pressure_error", kPressureError, room.air_pressure_error);
  read("humidity", kHumidity, room.humidity);
  read("humidity_error", kHumidity, room.humidity_error);
  read("wavelength_um", kWavelength, room.wavelength_um);
  read("gradient_error", kGradientError, room.gradient_error, kPerMm);
  read("nest_repeatability", kUncertainty, room.nest_repeatability, scene.mm_per_unit);
}

}  // namespace standpoint
