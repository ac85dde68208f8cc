#include "io/read/scene/scene_limits.h"
#include "io/read/scene/scene_parts.h"
#include "io/words/units.h"

namespace standpoint {
namespace {

constexpr double kMmPerMetre = 1000;

void read_beam(const Cursor& at, const SceneReading& reading, Instrument& instrument) {
  const ObjectCursor beam(at);
  beam.allow({"diameter", "growth_mrad"});
  instrument.beam_diameter =
      reading.mm(read_number(beam.required("diameter"), kLengthOrZero).value_or(0));
  // A diameter's growth is a length per length: mrad are thousandths whatever the unit.
  instrument.beam_growth_rad =
      read_number(beam.optional("growth_mrad"), kGrowth).value_or(0) / 1000;
}

void read_own_body(const Cursor& at, const SceneReading& reading, Instrument& instrument) {
  if (at.value == nullptr) return;
  const ObjectCursor body(at);
  body.allow({"radius", "above", "below"});
  const auto length = [&](std::string_view key) {
    return reading.mm(read_number(body.required(key), kLengthOrZero).value_or(0));
  };
  instrument.body_radius = length("radius");
  instrument.body_above = length("above");
  instrument.body_below = length("below");
}

ErrorTerm read_error_term(const Cursor& at, const SceneReading& reading) {
  const ObjectCursor term(at);
  term.allow({"fixed", "per_metre"});
  const double fixed = read_number(term.required("fixed"), kUncertainty).value_or(0);
  const double per_metre = read_number(term.optional("per_metre"), kUncertaintyRate).value_or(0);
  return {reading.mm(fixed), reading.mm(per_metre) / kMmPerMetre};
}

void read_error(const Cursor& at, const SceneReading& reading, InstrumentError& error) {
  if (at.value == nullptr) return;
  const ObjectCursor object(at);
  object.allow({"coverage_factor", "transverse", "radial"});
  error.coverage_factor = read_number(object.optional("coverage_factor"), kCoverageFactor)
                              .value_or(error.coverage_factor);
  error.transverse = read_error_term(object.required("transverse"), reading);
  error.radial = read_error_term(object.required("radial"), reading);
}

}  // namespace

void read_instrument(const Cursor& at, SceneReading& reading) {
  Instrument& instrument = reading.scene().instrument;
  instrument = Instrument{};
  const ObjectCursor object(at);
  object.allow({"name", "beam", "range", "elevation", "body", "error"});
  instrument.name = read_name(object.optional("name")).value_or("instrument");
  read_beam(object.required("beam"), reading, instrument);
  const auto range = read_interval(object.required("range"), kLengthOrZero).value_or(Interval{});
  instrument.range = {reading.mm(range.low), reading.mm(range.high)};
  const auto elevation =
      read_interval(object.required("elevation"), kElevation).value_or(Interval{});
  instrument.elevation_rad = {rad_from_deg(elevation.low), rad_from_deg(elevation.high)};
  read_own_body(object.optional("body"), reading, instrument);
  read_error(object.optional("error"), reading, instrument.error);
}

}  // namespace standpoint
