#include <algorithm>
#include <array>

#include "io/read/scene/points_in_line.h"
#include "io/read/scene/scene_limits.h"
#include "io/read/scene/scene_parts.h"
#include "planner/model/touch.h"

namespace standpoint {
namespace {

constexpr std::array<std::string_view, 5> kTypes{"point", "plane", "hole", "cylinder", "sphere"};
constexpr std::array<std::string_view, 2> kSides{"inside", "outside"};
/// What the command `features` tells beside a feature's form: an entry of its JSON can be copied
/// into a scene as it stands (contract section 8).
constexpr std::array<std::string_view, 10> kFindings{
    "through", "steps",          "tip",   "countersink", "area",
    "fit",     "tolerance_from", "datum", "component",   "from"};

Vec3 read_place(const Cursor& at, const SceneReading& reading) {
  const Vec3 place = read_vec3(at, kCoordinate).value_or(Vec3::Zero());
  return {reading.mm(place.x()), reading.mm(place.y()), reading.mm(place.z())};
}

double read_length(const Cursor& at, const SceneReading& reading) {
  return reading.mm(read_number(at, kLength).value_or(0));
}

Vec3 read_unit(const Cursor& at) {
  return read_direction(at).value_or(Vec3::UnitZ());
}

std::vector<Vec3> read_plane_points(const Cursor& at, const SceneReading& reading) {
  const JsonList* entries =
      expect_list(at, {"a list of 3 to 1000 points [x, y, z]", 3, kMostPlanePoints});
  if (entries == nullptr) return {};
  std::vector<Vec3> points;
  for (std::size_t i = 0; i < entries->size(); ++i) {
    const auto point = read_vec3(entry_of(at, *entries, i), kCoordinate);
    if (point) points.emplace_back(*point * reading.mm_per_unit());
  }
  const bool is_whole = points.size() == entries->size() && points.size() >= 3;
  if (!is_whole) return {};
  if (are_in_line(points)) at.fault(FaultKind::points_in_line);
  return points;
}

/// The names of the only targets that may be used.
std::vector<TargetId> read_targets_of(const Cursor& at, const SceneReading& reading) {
  std::vector<TargetId> targets;
  if (at.value == nullptr) return targets;
  NameTable listed("");
  for_each_entry(at, {"a list of at least one target's name", 1},
                 [&](const Cursor& entry, std::size_t i) {
                   const auto name = read_name(entry);
                   if (!name) return;
                   if (const auto earlier = listed.look_up(*name)) {
                     entry.fault(FaultKind::duplicate_entry, *earlier);
                     return;
                   }
                   listed.add(entry, *name, i);
                   if (const auto index = reading.target_names.find(entry, *name))
                     targets.emplace_back(*index);
                 });
  return targets;
}

/// How many touches may be asked for. A point is one touch and a plane one for each of its points.
NumberRule count_rule(const std::optional<std::size_t>& type, std::size_t plane_points) {
  NumberRule rule = kTouchCount;
  if (!type) return rule;
  switch (*type) {
    case 0:
      return {"the number of a point's touches", 1, 1};
    case 1:
      if (plane_points >= 3) {
        rule = {"the number of the plane's points", static_cast<double>(plane_points),
                static_cast<double>(plane_points)};
      }
      return rule;
    case 3:
      rule.low = 5;
      return rule;
    case 4:
      rule.low = 4;
      return rule;
    default:
      return rule;
  }
}

/// How many touches the feature has on its surface or wall, as the planner takes them; 0 where its
/// shape could not be read. A tip without size fits everywhere.
std::size_t touch_count_of(const Feature& feature) {
  std::size_t most = 0;
  for (const TouchSet& set : touch_sets(feature, 0, Rules{}))
    most = std::max(most, set.touches.size());
  return most;
}

void read_touches(const Cursor& at, const NumberRule& count, bool is_type_known, Feature& feature) {
  if (at.value == nullptr) return;
  const ObjectCursor object(at);
  object.allow({"count", "at_least"});
  const Cursor count_at = object.optional("count");
  feature.touch_count = read_whole(count_at, count);
  const Cursor at_least = object.optional("at_least");
  feature.enough_touches = read_whole(at_least, kTouchCount);
  const bool is_count_known = feature.touch_count || count_at.value == nullptr;
  if (!feature.enough_touches || !is_count_known || !is_type_known) return;
  const std::size_t most = touch_count_of(feature);
  if (most > 0 && static_cast<std::size_t>(*feature.enough_touches) > most)
    at_least.fault(FaultKind::too_many_touches_asked, most);
}

HoleFeature read_hole(const ObjectCursor& object, const SceneReading& reading) {
  HoleFeature hole;
  hole.centre = read_place(object.required("centre"), reading);
  hole.axis = read_unit(object.required("axis"));
  hole.radius = read_length(object.required("diameter"), reading) / 2;
  hole.depth = read_length(object.required("depth"), reading);
  return hole;
}

CylinderFeature read_cylinder(const ObjectCursor& object, const SceneReading& reading) {
  CylinderFeature cylinder;
  cylinder.centre = read_place(object.required("centre"), reading);
  cylinder.axis = read_unit(object.required("axis"));
  cylinder.radius = read_length(object.required("diameter"), reading) / 2;
  cylinder.length = read_length(object.required("length"), reading);
  cylinder.inside = read_choice(object.required("side"), kSides) == std::optional<std::size_t>(0);
  return cylinder;
}

SphereFeature read_sphere(const ObjectCursor& object, const SceneReading& reading) {
  SphereFeature sphere;
  sphere.centre = read_place(object.required("centre"), reading);
  sphere.toward = read_unit(object.required("toward"));
  sphere.radius = read_length(object.required("diameter"), reading) / 2;
  return sphere;
}

/// The keys of one type's features besides those that all have.
std::vector<std::string_view> keys_of(const std::optional<std::size_t>& type) {
  if (!type) {
    return {"at",       "normal", "points", "centre", "axis",
            "diameter", "depth",  "length", "side",   "toward"};
  }
  switch (*type) {
    case 0:
      return {"at", "normal"};
    case 1:
      return {"points", "normal"};
    case 2:
      return {"centre", "axis", "diameter", "depth"};
    case 3:
      return {"centre", "axis", "diameter", "length", "side"};
    default:
      return {"centre", "diameter", "toward"};
  }
}

Shape read_shape(const ObjectCursor& object, std::size_t type, const SceneReading& reading) {
  switch (type) {
    case 0: {
      PointFeature point;
      point.at = read_place(object.required("at"), reading);
      point.normal = read_unit(object.required("normal"));
      return point;
    }
    case 1: {
      PlaneFeature plane;
      plane.points = read_plane_points(object.required("points"), reading);
      plane.normal = read_unit(object.required("normal"));
      return plane;
    }
    case 2:
      return read_hole(object, reading);
    case 3:
      return read_cylinder(object, reading);
    default:
      return read_sphere(object, reading);
  }
}

Feature read_feature(const Cursor& at, std::size_t index, SceneReading& reading) {
  const ObjectCursor object(at);
  Feature feature;
  feature.name = read_own_name(object, reading.feature_names, index);
  const auto type = read_choice(object.required("type"), kTypes);
  std::vector<std::string_view> keys{"name",     "type",    "frame",   "tolerance",
                                     "required", "targets", "touches", "split"};
  const auto own_keys = keys_of(type);
  keys.insert(keys.end(), own_keys.begin(), own_keys.end());
  object.allow(keys, kFindings);
  if (type) feature.shape = read_shape(object, *type, reading);
  const auto frame = read_frame(object, reading);
  if (frame && type) place_in_frame(*frame, feature);
  const auto tolerance = read_number(object.optional("tolerance"), kLength);
  if (tolerance) feature.tolerance = reading.mm(*tolerance);
  feature.required = read_flag(object.optional("required")).value_or(true);
  feature.split = read_flag(object.optional("split")).value_or(true);
  feature.targets = read_targets_of(object.optional("targets"), reading);
  const auto* plane = std::get_if<PlaneFeature>(&feature.shape);
  const NumberRule count = count_rule(type, plane != nullptr ? plane->points.size() : 0);
  read_touches(object.optional("touches"), count, type.has_value(), feature);
  return feature;
}

}  // namespace

void read_features(const Cursor& at, SceneReading& reading) {
  if (at.value == nullptr) return;
  if (at.value->as<JsonList>() == nullptr) reading.feature_names.mark_incomplete();
  const std::size_t first = reading.scene().features.size();
  for_each_entry(at, {"a list of features"}, [&](const Cursor& entry, std::size_t i) {
    reading.scene().features.push_back(read_feature(entry, first + i, reading));
    reading.result.feature_places.push_back(entry.place());
  });
}

}  // namespace standpoint
