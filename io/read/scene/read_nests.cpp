#include "io/read/scene/read_values.h"
#include "io/read/scene/scene_limits.h"
#include "io/read/scene/scene_parts.h"
#include "io/words/units.h"

namespace standpoint {
namespace {

Nest read_nest(const Cursor& at, std::size_t index, SceneReading& reading) {
  const ObjectCursor object(at);
  object.allow({"name", "frame", "at", "normal", "seat"});
  Nest nest;
  nest.name = read_own_name(object, reading.nest_names, index);
  const auto place = read_vec3(object.required("at"), kCoordinate);
  nest.at = place.value_or(Vec3::Zero()) * reading.mm_per_unit();
  nest.normal = read_direction(object.required("normal")).value_or(Vec3::UnitZ());
  nest.seat_rad = rad_from_deg(read_number(object.required("seat"), kHalfAngle).value_or(0));
  if (const auto frame = read_frame(object, reading)) place_in_frame(*frame, nest);
  return nest;
}

/// Nests and nest sites share one name space; a site's index continues after the nests.
void read_nest_entries(const Cursor& at, std::string_view expected, SceneReading& reading,
                       std::vector<Nest>& nests, std::size_t first_index) {
  if (at.value == nullptr) return;
  if (at.value->as<JsonList>() == nullptr) reading.nest_names.mark_incomplete();
  for_each_entry(at, {expected}, [&](const Cursor& entry, std::size_t i) {
    nests.push_back(read_nest(entry, first_index + i, reading));
  });
}

NestSurface read_nest_surface(const Cursor& at, SceneReading& reading) {
  const ObjectCursor object(at);
  object.allow({"body", "polygon", "spacing"});
  NestSurface surface;
  const Cursor body_at = object.required("body");
  if (const auto name = read_name(body_at)) {
    const auto index = reading.body_names.find(body_at, *name);
    surface.body = BodyId(index.value_or(0));
  }
  const auto polygon = read_polygon(object.required("polygon"), reading);
  const Cursor spacing_at = object.required("spacing");
  const auto spacing = read_number(spacing_at, kLength);
  if (spacing) surface.spacing = reading.mm(*spacing);
  if (polygon) surface.polygon = *polygon;
  if (polygon && spacing) check_grid(spacing_at, surface.spacing, *polygon, 1, reading.nest_places);
  return surface;
}

}  // namespace

void read_nests(const Cursor& at, SceneReading& reading) {
  read_nest_entries(at, "a list of nests", reading, reading.scene().nests,
                    reading.scene().nests.size() + reading.scene().nest_sites.size());
}

void read_nest_sites(const Cursor& at, SceneReading& reading) {
  read_nest_entries(at, "a list of nest sites", reading, reading.scene().nest_sites,
                    reading.scene().nests.size() + reading.scene().nest_sites.size());
}

void read_nest_surfaces(const Cursor& at, SceneReading& reading) {
  if (at.value == nullptr) return;
  for_each_entry(at, {"a list of nest surfaces"}, [&](const Cursor& entry, std::size_t) {
    reading.scene().nest_surfaces.push_back(read_nest_surface(entry, reading));
  });
}

void read_datum(const Cursor& at, SceneReading& reading) {
  if (at.value == nullptr) return;
  reading.scene().datum.clear();
  for_each_name(at, {"a list of names of nests or features"},
                [&](const Cursor& entry, const std::string& name) {
                  const bool is_nest = reading.nest_names.look_up(name).has_value();
                  const bool is_feature = reading.feature_names.look_up(name).has_value();
                  if (is_nest && is_feature) entry.fault(FaultKind::ambiguous_name);
                  // Asked of either table only for its fault, with its hint.
                  if (!is_nest && !is_feature && reading.feature_names.is_complete())
                    (void)reading.nest_names.find(entry, name);
                  reading.scene().datum.push_back(name);
                });
}

}  // namespace standpoint
