#include "io/read_values.h"
#include "io/scene_limits.h"
#include "io/scene_parts.h"

namespace standpoint {
namespace {

constexpr double kPaPerHpa = 100;
constexpr double kPercent = 0.01;
constexpr double kUmPerNm = 1e-3;
constexpr double kPerMmOfPerMetre = 1e-3;

}  // namespace

void read_room(const Cursor& at, SceneReading& reading) {
  if (at.value == nullptr) return;
  const ObjectCursor object(at);
  object.allow({"part_temperature", "part_temperature_error", "expansion", "expansion_error",
                "air_temperature", "air_temperature_error", "air_pressure", "air_pressure_error",
                "humidity", "humidity_error", "wavelength_nm", "gradient_error",
                "nest_repeatability"});
  const auto read = [&](std::string_view key, const NumberRule& rule, double unit, double& value) {
    if (const auto number = read_number(object.optional(key), rule)) value = *number * unit;
  };
  Room& room = reading.scene().room;
  read("part_temperature", kPartTemperature, 1, room.part_temperature);
  read("part_temperature_error", kTemperatureError, 1, room.part_temperature_error);
  read("expansion", kExpansion, 1, room.expansion);
  read("expansion_error", kExpansionError, 1, room.expansion_error);
  read("air_temperature", kAirTemperature, 1, room.air_temperature);
  read("air_temperature_error", kTemperatureError, 1, room.air_temperature_error);
  read("air_pressure", kAirPressure, kPaPerHpa, room.air_pressure);
  read("air_pressure_error", kAirPressureError, kPaPerHpa, room.air_pressure_error);
  read("humidity", kHumidity, kPercent, room.humidity);
  read("humidity_error", kHumidity, kPercent, room.humidity_error);
  read("wavelength_nm", kWavelength, kUmPerNm, room.wavelength_um);
  read("gradient_error", kGradient, kPerMmOfPerMetre, room.gradient_error);
  read("nest_repeatability", kUncertainty, reading.scene().mm_per_unit, room.nest_repeatability);
}

}  // namespace standpoint
