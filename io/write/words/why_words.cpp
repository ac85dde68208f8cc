#include "io/write/words/why_words.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "geometry/trigonometry.h"
#include "io/words/lengths.h"
#include "io/words/names.h"
#include "io/words/stance_words.h"
#include "io/words/words.h"

namespace standpoint {
namespace {

std::string margin_words(const Scene& scene, double mm) {
  return length_with_unit(scene, mm, step::kMargin);
}

std::string body_words(const Scene& scene, const Obstruction& obstruction) {
  std::string words = scene.bodies[obstruction.body.index].name;
  if (obstruction.face) words += ", " + *obstruction.face;
  return words;
}

/// "gains 3 (a, b and nest N1), loses none": also reached then, no longer reached then.
std::string effect_words(const Scene& scene, const Effect& effect) {
  const auto names = [&](const std::vector<Subject>& subjects) {
    std::vector<std::string> all;
    all.reserve(subjects.size());
    for (const Subject& subject : subjects) all.push_back(subject_name(scene, subject));
    return list_of(all);
  };
  const std::string gains =
      effect.gained.empty()
          ? "gains nothing else"
          : fmt::format("gains {} ({})", effect.gained.size(), names(effect.gained));
  return effect.lost.empty()
             ? gains + ", loses none"
             : fmt::format("{}, loses {} ({})", gains, effect.lost.size(), names(effect.lost));
}

std::string level_shift_words(const Scene& scene, const Vec3& shift) {
  std::vector<std::string> parts;
  for (int axis = 0; axis < 2; ++axis) {
    if (std::abs(shift[axis]) < 0.5) continue;
    parts.push_back(fmt::format("{} toward {}{}",
                                length_with_unit(scene, std::abs(shift[axis]), step::kPlace),
                                shift[axis] > 0 ? '+' : '-', axis == 0 ? 'X' : 'Y'));
  }
  return fmt::format("by {} ({})", length_with_unit(scene, shift.norm(), step::kPlace),
                     list_of(parts));
}

std::string place_words(const Scene& scene, const Cure& cure) {
  const std::string at =
      fmt::format("({}) {}", place_text(scene, cure.station, step::kPlace), scene.units);
  return cure.name.empty() ? at : fmt::format("{} at {}", cure.name, at);
}

/// "its shank 0.4 mm clear": how much space one piece of a stylus has.
std::string space_words(const Scene& scene, std::string_view piece, double clearance) {
  if (!std::isfinite(clearance)) return fmt::format("its {} clear of everything", piece);
  if (clearance >= 0) return fmt::format("its {} {} clear", piece, margin_words(scene, clearance));
  return fmt::format("its {} {} into a body, as fit_tolerance allows", piece,
                     length_with_unit(scene, -clearance, step::kUncertainty));
}

/// How a stylus is held where it has the least space.
std::string held_words(const Scene& scene, const Cure& cure) {
  std::string words = ", held " + direction_words(*cure.shank_direction);
  if (!cure.shank_clearance || !cure.head_clearance) return words;
  return words + fmt::format(" where it is tightest, {}, {}",
                             space_words(scene, "shank", *cure.shank_clearance),
                             space_words(scene, "head", *cure.head_clearance));
}

std::string action_words(const Scene& scene, const Cure& cure) {
  switch (cure.kind) {
    case CureKind::other_target:
      return fmt::format("Allow {} for it, which the scene does not",
                         cure.target ? target_name(scene, *cure.target) : "another target");
    case CureKind::change_height:
      return fmt::format("{} the instrument by {}, to z = {}",
                         cure.shift.z() > 0 ? "Raise" : "Lower",
                         length_with_unit(scene, std::abs(cure.shift.z()), step::kPlace),
                         length_with_unit(scene, cure.station.z(), step::kPlace));
    case CureKind::shift_station:
      return "Shift the station " + level_shift_words(scene, cure.shift);
    case CureKind::move_body:
      return fmt::format("Move {} {} (whether it can stand there is for you to judge)",
                         scene.bodies[cure.body->index].name, level_shift_words(scene, cure.shift));
    case CureKind::remove_body:
      return fmt::format("Take {} away", scene.bodies[cure.body->index].name);
    case CureKind::planned_station:
      return "Measure it from the plan's station " + place_words(scene, cure) +
             after_place(cure.up);
    case CureKind::add_station:
      return "Add a station at " + place_words(scene, cure) + after_place(cure.up);
  }
  return {};
}

}  // namespace

std::string subject_name(const Scene& scene, const Subject& subject) {
  if (const auto* feature = std::get_if<FeatureId>(&subject)) {
    return scene.features[feature->index].name;
  }
  return "nest " + scene.nests[std::get<NestId>(subject).index].name;
}

std::string side_words(const Vec3& along, const Vec3& side) {
  if (side.isZero()) return "in the middle";
  constexpr double kAlong = 0.8;  // cosine
  if (side.dot(along) < -kAlong) return "on the near side";
  if (side.dot(along) > kAlong) return "on the far side";
  // To the right of somebody upright who looks along the beam; straight up or down the word is the
  // world's.
  const Vec3 right = along.cross(Vec3::UnitZ());
  const Vec3 across = right.norm() > 1e-9 ? Vec3(right.normalized()) : Vec3(Vec3::UnitX());
  const Vec3 up = across.cross(along);
  const double x = side.dot(across), y = side.dot(up);
  // Eight directions of 45 degrees.
  constexpr std::array kWords = {
      "on the right", "above on the right", "above", "above on the left",
      "on the left",  "below on the left",  "below", "below on the right"};
  const int eighth = static_cast<int>(std::lround(arc_tangent(y, x) / (M_PI / 4)));
  return kWords[static_cast<std::size_t>((eighth + 8) % 8)];
}

Pierced pierced_by(const Scene& scene, const Cause& cause) {
  const bool is_full = is_full_target(scene, cause.target);
  switch (cause.rule) {
    case Rule::shank:
      return Pierced::shank;
    case Rule::head:
      return !is_full && std::holds_alternative<TwoBallStylus>(offset_stylus(scene, cause.target))
                 ? Pierced::rod_ball
                 : Pierced::head;
    case Rule::no_fit:
      if (hole_adapter(scene, cause.target) != nullptr && !cause.solid) return Pierced::base;
      return is_full ? Pierced::ball : Pierced::tip;
    default:
      return Pierced::beam;
  }
}

namespace {

std::string_view pierced_words(Pierced pierced) {
  switch (pierced) {
    case Pierced::beam:
      return "the beam";
    case Pierced::shank:
      return "the shank";
    case Pierced::head:
      return "the head";
    case Pierced::rod_ball:
      return "a ball of the rod";
    case Pierced::ball:
      return "the ball";
    case Pierced::tip:
      return "the tip";
    case Pierced::base:
      return "the base of the adapter";
  }
  return "";
}

/// The beam runs from the instrument, so it has a place along it, an axis and a rim.
std::string in_beam_words(const Scene& scene, const std::string& side, const Obstruction& body) {
  const std::string from = length_with_unit(scene, body.distance, step::kPlace);
  if (body.margin >= 0) {
    return fmt::format("beside the beam from {} on, {} away at the least, {}", from,
                       margin_words(scene, body.margin), side);
  }
  return fmt::format("in the beam from {} on, {} deep, {}; {}", from,
                     margin_words(scene, -body.margin), side,
                     body.stops ? "it stops the axis" : "it only clips the rim");
}

}  // namespace

std::string obstruction_sentence(const Scene& scene, Pierced pierced, const Vec3& station,
                                 const Obstruction& obstruction) {
  const Vec3 view = (obstruction.at - station).normalized();
  const std::string side = side_words(view, obstruction.side);
  const std::string body = body_words(scene, obstruction) + ": ";
  if (pierced == Pierced::beam) return body + in_beam_words(scene, side, obstruction);
  std::string words = fmt::format("{}{} deep in {}, {}", body,
                                  margin_words(scene, std::max(-obstruction.margin, 0.0)),
                                  pierced_words(pierced), side);
  if (obstruction.stops)
    words += pierced == Pierced::shank ? "; it crosses its axis" : "; it reaches its centre";
  return words;
}

std::string direction_words(const Vec3& direction) {
  std::vector<std::string> parts;
  if (direction.z() > 0.38) parts.emplace_back("up");
  if (direction.z() < -0.38) parts.emplace_back("down");
  for (int axis = 0; axis < 2; ++axis) {
    // Under 22.5 degrees off square a direction is not worth a word.
    if (std::abs(direction[axis]) > 0.38) {
      parts.push_back(
          fmt::format("toward {}{}", direction[axis] > 0 ? '+' : '-', axis == 0 ? 'X' : 'Y'));
    }
  }
  return fmt::format("{} ({}, {}, {})", list_of(parts), fixed_text(direction.x(), 2),
                     fixed_text(direction.y(), 2), fixed_text(direction.z(), 2));
}

std::string cure_sentence(const Scene& scene, const Cure& cure) {
  std::string words = action_words(scene, cure) + ": then ";
  words += cure.target ? target_name(scene, *cure.target) + " reaches" : "it is reached";
  if (cure.shank_direction) words += held_words(scene, cure);
  if (cure.margin && std::isfinite(*cure.margin)) {
    words += fmt::format("{} with a margin of {}", cure.shank_direction ? "," : "",
                         margin_words(scene, *cure.margin));
  }
  return words + "; " + effect_words(scene, cure.effect) + ".";
}

std::string steadiness_sentence(const Scene& scene, const Steadiness& steadiness,
                                const std::string& what) {
  std::string words;
  if (steadiness.proved) {
    words = fmt::format("It holds for any shift of {} up to {} (proved)", what,
                        margin_words(scene, *steadiness.proved));
  } else {
    words = fmt::format("What shift of {} it holds for is only searched", what);
  }
  if (steadiness.breaks) {
    words += fmt::format("; the shortest of {} directions that breaks it is {} {}",
                         steadiness.directions, margin_words(scene, steadiness.breaks->norm()),
                         direction_words(steadiness.breaks->normalized()));
  } else {
    words += fmt::format("; no shift up to {} in {} directions breaks it",
                         length_with_unit(scene, steadiness.longest, step::kPlace),
                         steadiness.directions);
  }
  return words + ".";
}

std::string cure_name(CureKind kind) {
  switch (kind) {
    case CureKind::other_target:
      return "other-target";
    case CureKind::change_height:
      return "change-height";
    case CureKind::shift_station:
      return "shift-station";
    case CureKind::move_body:
      return "move-body";
    case CureKind::remove_body:
      return "remove-body";
    case CureKind::planned_station:
      return "planned-station";
    case CureKind::add_station:
      return "add-station";
  }
  return {};
}

}  // namespace standpoint
