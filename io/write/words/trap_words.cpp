#include "io/write/words/trap_words.h"

#include <cmath>
#include <map>

#include <fmt/format.h>

#include "io/words/lengths.h"
#include "io/words/units.h"
#include "io/words/words.h"

namespace standpoint {
namespace {

using Kind = Trap::Kind;

std::string length(const SceneFile& read, double mm) {
  return length_with_unit(read.scene, mm, step::kMargin);
}

const std::string& body_name(const SceneFile& read, const Trap& trap) {
  return read.scene.bodies[trap.body->index].name;
}

/// The unit that makes a body `scale` times as large as the one it is read in; empty where it has
/// no name.
std::string unit_for(const BodyReport& report, double scale) {
  for (std::size_t i = 0; i < kUnitNames.size(); ++i) {
    if (std::abs(report.mm_per_unit * scale / kMmPerUnit[i] - 1) < 1e-6)
      return std::string(kUnitNames[i]);
  }
  return "";
}

/// "25.4 times too small": what the body is now.
std::string size_words(double scale) {
  const double ratio = scale > 1 ? scale : 1 / scale;
  return fmt::format("{:.4g} times too {}", ratio, scale > 1 ? "small" : "large");
}

std::string misplaced(const SceneFile& read, const Trap& trap) {
  const bool is_turned = trap.turn_deg != Vec3::Zero(), is_scaled = trap.scale != 1;
  const std::string turn =
      fmt::format("[{:g}, {:g}, {:g}]", trap.turn_deg.x(), trap.turn_deg.y(), trap.turn_deg.z());
  const std::string unit = unit_for(read.bodies[trap.body->index], trap.scale);
  std::string what, change;
  if (is_scaled) {
    what = size_words(trap.scale);
    change = unit.empty() ? fmt::format("scale its lengths by {:.6g}", trap.scale)
                          : fmt::format("read it in {} (\"mesh_units\": \"{}\")", unit, unit);
  }
  if (is_turned) {
    what += std::string(is_scaled ? " and lies on its side" : "lies on its side");
    if (trap.turn_deg == Vec3(90, 0, 0)) what += ", as a file in which Y points up does";
    change += fmt::format("{}turn it by \"rotate_xyz_deg\": {} in its pose",
                          is_scaled ? " and " : "", turn);
  }
  return fmt::format(
      "{} {}{}: at least half of all touches lie on no surface, but {:.0f} % of those would lie on "
      "it otherwise. Change {}: {}; or, if it is right, the unit or the frame of the features.",
      body_name(read, trap), is_scaled ? "seems " : "seems to lie wrong: it ", what,
      100 * trap.share, trap_place(read, trap), change);
}

std::string of_feature(const SceneFile& read, const Trap& trap) {
  const Feature& feature = read.scene.features[trap.feature->index];
  const std::string place = trap_place(read, trap);
  const std::string body = trap.body ? body_name(read, trap) : "";
  switch (trap.kind) {
    case Kind::normal_inward: {
      const Shape& shape = feature.shape;
      const bool has_axis =
          std::holds_alternative<HoleFeature>(shape) || std::holds_alternative<SlotFeature>(shape);
      const char* key = has_axis                                         ? "axis"
                        : std::holds_alternative<CylinderFeature>(shape) ? "side"
                        : std::holds_alternative<ConeFeature>(shape)     ? "axis\" or \"side"
                                                                         : "normal";
      return fmt::format(
          "{}: it would be touched from inside of {}. Change {}: turn \"{}\" round, so that it "
          "points out of the material.",
          feature.name, body, place, key);
    }
    case Kind::feature_inside:
      return fmt::format(
          "{}: it is touched {} deep inside of {}. Change {}: its place; or the pose of {}.",
          feature.name, length(read, trap.amount), body, place, body);
    default:
      return fmt::format(
          "{}: it is touched {} off every surface{}. Change {}: its place, its frame or its unit.",
          feature.name, length(read, trap.amount),
          body.empty() ? "" : fmt::format("; {} is the nearest", body), place);
  }
}

}  // namespace

std::string_view trap_name(Trap::Kind kind) {
  switch (kind) {
    case Kind::misplaced_part:
      return "misplaced-part";
    case Kind::part_too_large:
      return "part-too-large";
    case Kind::part_too_small:
      return "part-too-small";
    case Kind::inward_mesh:
      return "inward-mesh";
    case Kind::normal_inward:
      return "normal-inward";
    case Kind::feature_inside:
      return "feature-inside";
    case Kind::feature_off:
      return "feature-off";
    case Kind::part_floats:
      return "part-floats";
    case Kind::part_sinks:
      return "part-sinks";
  }
  return "";
}

std::string trap_place(const SceneFile& read, const Trap& trap) {
  const auto of = [](const std::vector<std::string>& places, std::size_t index) {
    return index < places.size() ? places[index] : "";
  };
  if (trap.feature) return of(read.feature_places, trap.feature->index);
  return trap.body ? of(read.body_places, trap.body->index) : "";
}

std::string trap_sentences(const SceneFile& read, const Trap& trap) {
  const std::string place = trap_place(read, trap);
  switch (trap.kind) {
    case Kind::misplaced_part:
      return misplaced(read, trap);
    case Kind::part_too_large:
    case Kind::part_too_small: {
      const bool is_large = trap.kind == Kind::part_too_large;
      return fmt::format(
          "{} is {} across, {} for an instrument that reaches {}. Change {}: its \"mesh_units\", "
          "if "
          "it is meant to be {}.",
          body_name(read, trap), length(read, trap.amount), is_large ? "very large" : "very small",
          length(read, read.scene.instrument.range.high), place, is_large ? "smaller" : "larger");
    }
    case Kind::inward_mesh:
      return fmt::format(
          "{}: all triangles of its closed surface face inward, as the walls of a hall do: it "
          "counts as hollow, so that what stands inside of it is not noticed. Change {}: its mesh, "
          "with the triangles turned round.",
          body_name(read, trap), place);
    case Kind::part_floats:
      return fmt::format(
          "{} ends {} above the floor of {} (z = {}), and touches nothing that stands on it. "
          "Change {}: its pose; or add what carries it.",
          body_name(read, trap), length(read, trap.amount), trap.zone,
          length_text(read.scene, trap.floor, step::kMargin), place);
    case Kind::part_sinks:
      return fmt::format(
          "{} reaches {} below the floor of {} (z = {}). Change {}: its pose, if there is no pit.",
          body_name(read, trap), length(read, trap.amount), trap.zone,
          length_text(read.scene, trap.floor, step::kMargin), place);
    default:
      return of_feature(read, trap);
  }
}

std::vector<std::string> trap_list(const SceneFile& read, const std::vector<Trap>& traps,
                                   std::size_t most) {
  std::vector<std::string> lines;
  for (std::size_t begin = 0; begin < traps.size();) {
    std::size_t end = begin;
    for (; end < traps.size() && traps[end].kind == traps[begin].kind; ++end) {
      if (end - begin < most) lines.push_back(trap_sentences(read, traps[end]));
    }
    if (end - begin > most)
      lines.push_back(fmt::format(
          "The same of {}.",
          counted(end - begin - most, traps[begin].feature ? "more feature" : "more body",
                  traps[begin].feature ? "more features" : "more bodies")));
    begin = end;
  }
  return lines;
}

}  // namespace standpoint
