#include <array>

#include "io/read/scene/scene_limits.h"
#include "io/read/scene/scene_parts.h"
#include "io/words/units.h"

namespace standpoint {
namespace {

constexpr std::array<std::string_view, 2> kKinds{"mirror", "two-ball"};

double read_length(const Cursor& at, const NumberRule& rule, const SceneReading& reading) {
  return reading.mm(read_number(at, rule).value_or(0));
}

FullTarget read_full_target(const Cursor& at, std::size_t index, SceneReading& reading) {
  const ObjectCursor object(at);
  object.allow({"name", "diameter", "acceptance", "aperture"});
  FullTarget target;
  target.name = read_own_name(object, reading.target_names, index);
  if (target.name.empty()) {
    reading.ball_names.mark_incomplete();
  } else if (!reading.ball_names.look_up(target.name)) {
    reading.ball_names.add(object.optional("name"), target.name, index);
  }
  target.radius = read_length(object.required("diameter"), kLength, reading) / 2;
  target.acceptance_rad =
      rad_from_deg(read_number(object.required("acceptance"), kAcceptance).value_or(0));
  target.aperture_rad =
      rad_from_deg(read_number(object.required("aperture"), kHalfAngle).value_or(0));
  return target;
}

HoleAdapter read_hole_adapter(const Cursor& at, std::size_t index, SceneReading& reading) {
  const ObjectCursor object(at);
  object.allow({"name", "hole_diameter", "target", "height", "base_diameter", "seat"});
  HoleAdapter adapter;
  adapter.name = read_own_name(object, reading.target_names, index);
  const auto diameter =
      read_interval(object.required("hole_diameter"), kLength).value_or(Interval{});
  adapter.hole_diameter = {reading.mm(diameter.low), reading.mm(diameter.high)};
  const Cursor target_at = object.required("target");
  if (const auto name = read_name(target_at))
    if (const auto ball = reading.ball_names.find(target_at, *name)) adapter.ball = TargetId(*ball);
  adapter.height = read_length(object.required("height"), kLength, reading);
  adapter.base_radius = read_length(object.required("base_diameter"), kLengthOrZero, reading) / 2;
  adapter.seat_rad = rad_from_deg(read_number(object.required("seat"), kHalfAngle).value_or(0));
  return adapter;
}

/// What a shank carries, in scene units from the tip's centre; nothing where it cannot be read.
struct Carried {
  const Cursor& at;
  std::optional<double> nearest;   ///< the mirror or the nearer ball: it must clear the tip
  std::optional<double> farthest;  ///< where the shank ends
};

/// A shank that is thicker than its tip is a round cone over `taper`, which needs |difference of
/// radii| < length (round_cone.h); and the taper cannot go on past the shank's end.
void check_taper(const Cursor& at, double taper, double tip_radius, double shank_radius,
                 const std::optional<double>& end) {
  if (shank_radius <= tip_radius) return;
  const std::string_view note = at.value == nullptr ? " (without the key it is 20 mm)" : "";
  if (taper <= shank_radius - tip_radius)
    at.fault(FaultKind::taper_too_short, shank_radius - tip_radius, note);
  if (end && taper > *end) at.fault(FaultKind::taper_too_long, *end, note);
}

Shank read_shank(const ObjectCursor& object, const Carried& carried, const SceneReading& reading) {
  const auto tip = read_number(object.required("tip_diameter"), kLengthOrZero);
  const auto thickness = read_number(object.required("shank_diameter"), kLengthOrZero);
  const Cursor taper_at = object.optional("taper");
  const auto taper = read_number(taper_at, kLengthOrZero);
  const Shank defaults;
  if (tip && carried.nearest && *carried.nearest <= *tip / 2)
    carried.at.fault(FaultKind::stylus_too_short, *tip / 2);
  const bool is_taper_known = taper || taper_at.value == nullptr;
  if (tip && thickness && is_taper_known) {
    const double in_units = taper.value_or(defaults.taper / reading.mm_per_unit());
    check_taper(taper_at, in_units, *tip / 2, *thickness / 2, carried.farthest);
  }
  return {reading.mm(tip.value_or(0)) / 2, reading.mm(thickness.value_or(0)) / 2,
          taper ? reading.mm(*taper) : defaults.taper};
}

MirrorStylus read_mirror(const ObjectCursor& object, std::size_t index, SceneReading& reading) {
  object.allow({"name", "kind", "tip_diameter", "length", "shank_diameter", "head_diameter",
                "swing", "taper", "error"});
  MirrorStylus stylus;
  stylus.name = read_own_name(object, reading.target_names, index);
  const Cursor length_at = object.required("length");
  const auto length = read_number(length_at, kLength);
  stylus.shank = read_shank(object, {length_at, length, length}, reading);
  stylus.length = reading.mm(length.value_or(0));
  stylus.head_radius = read_length(object.required("head_diameter"), kLengthOrZero, reading) / 2;
  stylus.swing_rad = rad_from_deg(read_number(object.required("swing"), kHalfAngle).value_or(0));
  stylus.error = read_length(object.optional("error"), kUncertainty, reading);
  return stylus;
}

TwoBallStylus read_two_ball(const ObjectCursor& object, std::size_t index, SceneReading& reading) {
  object.allow({"name", "kind", "tip_diameter", "ball_distances", "ball_diameter", "shank_diameter",
                "acceptance", "taper", "error"});
  TwoBallStylus stylus;
  stylus.name = read_own_name(object, reading.target_names, index);
  const Cursor distances_at = object.required("ball_distances");
  const auto distances = read_interval(distances_at, kLength);
  const auto nearer = distances ? std::optional(distances->low) : std::nullopt;
  const auto farther = distances ? std::optional(distances->high) : std::nullopt;
  stylus.shank = read_shank(object, {distances_at, nearer, farther}, reading);
  stylus.ball_distances = {reading.mm(nearer.value_or(0)), reading.mm(farther.value_or(0))};
  stylus.ball_radius = read_length(object.required("ball_diameter"), kLength, reading) / 2;
  stylus.acceptance_rad =
      rad_from_deg(read_number(object.required("acceptance"), kHalfAngle).value_or(0));
  stylus.error = read_length(object.optional("error"), kUncertainty, reading);
  return stylus;
}

/// A stylus whose kind is unknown: what both kinds have is checked all the same.
void check_common_part(const ObjectCursor& object, std::size_t index, SceneReading& reading) {
  object.allow({"name", "kind", "tip_diameter", "length", "ball_distances", "ball_diameter",
                "shank_diameter", "head_diameter", "swing", "acceptance", "taper", "error"});
  (void)read_own_name(object, reading.target_names, index);
  for (const std::string_view key : {"tip_diameter", "shank_diameter"})
    (void)read_number(object.required(key), kLengthOrZero);
  (void)read_number(object.optional("taper"), kLengthOrZero);
  (void)read_number(object.optional("error"), kUncertainty);
}

}  // namespace

void read_full_targets(const Cursor& at, SceneReading& reading) {
  if (at.value == nullptr) return;
  if (at.value->as<JsonList>() == nullptr) {
    reading.target_names.mark_incomplete();
    reading.ball_names.mark_incomplete();
  }
  const std::size_t first = reading.scene().full_targets.size();
  for_each_entry(at, {"a list of full targets"}, [&](const Cursor& entry, std::size_t i) {
    reading.scene().full_targets.push_back(read_full_target(entry, first + i, reading));
  });
}

void read_hole_adapters(const Cursor& at, SceneReading& reading) {
  if (at.value == nullptr) return;
  if (at.value->as<JsonList>() == nullptr) reading.target_names.mark_incomplete();
  Scene& scene = reading.scene();
  const std::size_t first = target_count(scene);
  for_each_entry(at, {"a list of hole adapters"}, [&](const Cursor& entry, std::size_t i) {
    scene.hole_adapters.push_back(read_hole_adapter(entry, first + i, reading));
  });
}

void read_offset_styli(const Cursor& at, SceneReading& reading) {
  if (at.value == nullptr) return;
  if (at.value->as<JsonList>() == nullptr) reading.target_names.mark_incomplete();
  Scene& scene = reading.scene();
  const std::size_t first = target_count(scene);
  for_each_entry(at, {"a list of offset styli"}, [&](const Cursor& entry, std::size_t i) {
    const std::size_t index = first + i;
    const ObjectCursor object(entry);
    const auto kind = read_choice(object.required("kind"), kKinds);
    if (!kind) {
      check_common_part(object, index, reading);
      scene.offset_styli.emplace_back();
    } else if (*kind == 0) {
      scene.offset_styli.emplace_back(read_mirror(object, index, reading));
    } else {
      scene.offset_styli.emplace_back(read_two_ball(object, index, reading));
    }
  });
}

}  // namespace standpoint
