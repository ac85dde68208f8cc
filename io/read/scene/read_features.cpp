#include <algorithm>
#include <array>

#include "io/read/scene/read_shape.h"
#include "io/read/scene/read_surface.h"
#include "io/read/scene/scene_limits.h"
#include "io/read/scene/scene_parts.h"
#include "planner/model/touch.h"

namespace standpoint {
namespace {

/// What the command `features` tells beside a feature's form: an entry of its JSON can be copied
/// into a scene as it stands (contract section 8).
constexpr std::array<std::string_view, 10> kFindings{
    "through", "steps",          "tip",  "countersink", "area",
    "fit",     "tolerance_from", "from", "component",   "origin"};

/// The names of the only targets that may be used.
std::vector<TargetId> read_targets_of(const Cursor& at, const SceneReading& reading) {
  std::vector<TargetId> targets;
  for_each_name(at, {"a list of at least one target's name", 1},
                [&](const Cursor& entry, const std::string& name) {
                  if (const auto index = reading.target_names.find(entry, name))
                    targets.emplace_back(*index);
                });
  return targets;
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
  // How many touches a surface has is said by its spacing.
  if (std::holds_alternative<SurfaceFeature>(feature.shape)) {
    object.allow({"at_least"});
  } else {
    object.allow({"count", "at_least"});
  }
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

Feature read_feature(const Cursor& at, std::size_t index, SceneReading& reading) {
  const ObjectCursor object(at);
  Feature feature;
  feature.name = read_own_name(object, reading.feature_names, index);
  const auto type = read_shape_type(object.required("type"));
  std::vector<std::string_view> keys{"name",    "type",    "frame", "tolerance", "required",
                                     "targets", "touches", "split", "datum"};
  const auto own_keys = shape_keys(type);
  keys.insert(keys.end(), own_keys.begin(), own_keys.end());
  object.allow(keys, kFindings);
  feature.targets = read_targets_of(object.optional("targets"), reading);
  const auto frame = read_frame(object, reading);
  if (type == kSurfaceType) {
    feature.shape = read_surface(object, frame, feature.targets, reading);
  } else if (type) {
    feature.shape = read_shape(object, *type, reading);
    if (frame) place_in_frame(*frame, feature);
  }
  const auto tolerance = read_number(object.optional("tolerance"), kLength);
  if (tolerance) feature.tolerance = reading.mm(*tolerance);
  feature.required = read_flag(object.optional("required")).value_or(true);
  feature.split = read_flag(object.optional("split")).value_or(true);
  feature.is_datum = read_flag(object.optional("datum")).value_or(false);
  const NumberRule count = type ? touch_count_rule(feature.shape) : kTouchCount;
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
