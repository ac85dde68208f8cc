#include "io/read/scene/read_values.h"
#include "io/read/scene/scene_limits.h"
#include "io/read/scene/scene_parts.h"

namespace standpoint {
namespace {

/// How an instrument may stand at a place: the standing axes that are tried. Upright where nothing
/// is said, or where what is said cannot be read.
std::vector<Vec3> read_instrument_ups(const ObjectCursor& object, bool keep) {
  const Cursor one_at = object.optional("instrument_up");
  const Cursor several_at = object.optional("instrument_ups");
  std::vector<Vec3> ups;
  if (one_at.value != nullptr)
    if (const auto up = read_direction(one_at)) ups.push_back(*up);
  if (several_at.value != nullptr) {
    for_each_entry(several_at, {"a list of 1 to 100 directions [x, y, z]", 1, kMostUps},
                   [&](const Cursor& entry, std::size_t) {
                     if (const auto up = read_direction(entry)) ups.push_back(*up);
                   });
    if (one_at.value != nullptr) {
      several_at.fault(FaultKind::other, "one of instrument_up and instrument_ups, not both");
    } else if (keep && ups.size() > 1) {
      several_at.fault(FaultKind::other,
                       "one direction, as a place with \"keep\" is in every plan as it stands");
    }
  }
  if (ups.empty()) ups.push_back(Vec3::UnitZ());
  return ups;
}

FixedStation read_fixed(const Cursor& at, std::size_t index, SceneReading& reading) {
  const ObjectCursor object(at);
  object.allow({"name", "at", "keep", "cost", "instrument_up", "instrument_ups"});
  FixedStation station;
  station.name = read_own_name(object, reading.station_names, index);
  const auto place = read_vec3(object.required("at"), kCoordinate);
  station.at = place.value_or(Vec3::Zero()) * reading.mm_per_unit();
  station.keep = read_flag(object.optional("keep")).value_or(false);
  station.cost = read_number(object.optional("cost"), kCost).value_or(1);
  station.instrument_ups = read_instrument_ups(object, station.keep);
  return station;
}

std::vector<double> read_heights(const Cursor& at, const SceneReading& reading) {
  std::vector<double> heights;
  for_each_entry(at, {"a list of 1 to 1000 heights", 1, kMostHeights},
                 [&](const Cursor& entry, std::size_t) {
                   const auto height = read_number(entry, kLengthOrZero);
                   if (height) heights.push_back(reading.mm(*height));
                 });
  return heights;
}

std::vector<std::vector<Vec2>> read_holes(const Cursor& at, const SceneReading& reading) {
  std::vector<std::vector<Vec2>> holes;
  if (at.value == nullptr) return holes;
  for_each_entry(at, {"a list of polygons"}, [&](const Cursor& entry, std::size_t) {
    if (auto polygon = read_polygon(entry, reading)) holes.push_back(std::move(*polygon));
  });
  return holes;
}

double read_floor(const Cursor& at, const SceneReading& reading) {
  return reading.mm(read_number(at, kCoordinate).value_or(0));
}

Zone read_zone(const Cursor& at, std::size_t index, SceneReading& reading) {
  const ObjectCursor object(at);
  object.allow({"name", "floor", "polygon", "holes", "heights", "spacing", "cost", "instrument_up",
                "instrument_ups"});
  Zone zone;
  zone.name = read_own_name(object, reading.station_names, index);
  zone.floor = read_floor(object.optional("floor"), reading);
  const auto polygon = read_polygon(object.required("polygon"), reading);
  zone.holes = read_holes(object.optional("holes"), reading);
  zone.heights = read_heights(object.required("heights"), reading);
  zone.cost = read_number(object.optional("cost"), kCost).value_or(1);
  zone.instrument_ups = read_instrument_ups(object, false);
  const Cursor spacing_at = object.required("spacing");
  const auto spacing = read_number(spacing_at, kLength);
  if (spacing) zone.spacing = reading.mm(*spacing);
  if (polygon) zone.polygon = *polygon;
  if (polygon && spacing) {
    const auto layers = static_cast<double>(zone.heights.size() * zone.instrument_ups.size());
    check_grid(spacing_at, zone.spacing, *polygon, layers, reading.zone_places);
  }
  return zone;
}

KeepOut read_keep_out(const Cursor& at, std::size_t index, SceneReading& reading) {
  const ObjectCursor object(at);
  object.allow({"name", "polygon"});
  KeepOut keep_out;
  keep_out.name = read_own_name(object, reading.keep_out_names, index);
  if (auto polygon = read_polygon(object.required("polygon"), reading))
    keep_out.polygon = std::move(*polygon);
  return keep_out;
}

}  // namespace

void read_stations(const Cursor& at, SceneReading& reading) {
  if (at.value == nullptr) return;
  const ObjectCursor object(at);
  object.allow({"fixed", "zones", "keep_out"});
  Scene& scene = reading.scene();
  const Cursor fixed_at = object.optional("fixed");
  if (fixed_at.value != nullptr) {
    for_each_entry(fixed_at, {"a list of fixed places"}, [&](const Cursor& entry, std::size_t i) {
      scene.fixed_stations.push_back(read_fixed(entry, i, reading));
    });
  }
  const Cursor zones_at = object.optional("zones");
  if (zones_at.value != nullptr) {
    for_each_entry(zones_at, {"a list of zones"}, [&](const Cursor& entry, std::size_t i) {
      scene.zones.push_back(read_zone(entry, i, reading));
    });
  }
  const Cursor keep_out_at = object.optional("keep_out");
  if (keep_out_at.value != nullptr) {
    for_each_entry(keep_out_at, {"a list of keep-outs"}, [&](const Cursor& entry, std::size_t i) {
      scene.keep_outs.push_back(read_keep_out(entry, i, reading));
    });
  }
}

void read_walkways(const Cursor& at, SceneReading& reading) {
  if (at.value == nullptr) return;
  for_each_entry(at, {"a list of walkways"}, [&](const Cursor& entry, std::size_t i) {
    const ObjectCursor object(entry);
    object.allow({"name", "floor", "polygon"});
    Walkway walkway;
    walkway.name = read_own_name(object, reading.walkway_names, i);
    walkway.floor = read_floor(object.optional("floor"), reading);
    if (auto polygon = read_polygon(object.required("polygon"), reading))
      walkway.polygon = std::move(*polygon);
    reading.scene().walkways.push_back(std::move(walkway));
  });
}

}  // namespace standpoint
