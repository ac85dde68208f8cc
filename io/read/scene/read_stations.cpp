#include "io/read/scene/read_values.h"
#include "io/read/scene/scene_limits.h"
#include "io/read/scene/scene_parts.h"

namespace standpoint {
namespace {

FixedStation read_fixed(const Cursor& at, std::size_t index, SceneReading& reading) {
  const ObjectCursor object(at);
  object.allow({"name", "at", "keep"});
  FixedStation station;
  station.name = read_own_name(object, reading.station_names, index);
  const auto place = read_vec3(object.required("at"), kCoordinate);
  station.at = place.value_or(Vec3::Zero()) * reading.mm_per_unit();
  station.keep = read_flag(object.optional("keep")).value_or(false);
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

double read_floor(const Cursor& at, const SceneReading& reading) {
  return reading.mm(read_number(at, kCoordinate).value_or(0));
}

Zone read_zone(const Cursor& at, std::size_t index, SceneReading& reading) {
  const ObjectCursor object(at);
  object.allow({"name", "floor", "polygon", "heights", "spacing"});
  Zone zone;
  zone.name = read_own_name(object, reading.station_names, index);
  zone.floor = read_floor(object.optional("floor"), reading);
  const auto polygon = read_polygon(object.required("polygon"), reading);
  zone.heights = read_heights(object.required("heights"), reading);
  const Cursor spacing_at = object.required("spacing");
  const auto spacing = read_number(spacing_at, kLength);
  if (spacing) zone.spacing = reading.mm(*spacing);
  if (polygon) zone.polygon = *polygon;
  if (polygon && spacing) {
    check_grid(spacing_at, zone.spacing, *polygon, static_cast<double>(zone.heights.size()),
               reading.zone_places);
  }
  return zone;
}

}  // namespace

void read_stations(const Cursor& at, SceneReading& reading) {
  if (at.value == nullptr) return;
  const ObjectCursor object(at);
  object.allow({"fixed", "zones"});
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
