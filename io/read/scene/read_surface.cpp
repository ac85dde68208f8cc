#include "io/read/scene/read_surface.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <utility>

#include <fmt/format.h>

#include "io/read/scene/scene_limits.h"
#include "planner/surface/raise_touches.h"

namespace standpoint {
namespace {

constexpr std::array<std::string_view, 3> kSelections{"polygon", "faces", "inside"};
constexpr std::string_view kSelectionNames = "polygon, faces, inside";

/// The one key that selects; nothing, and told, where there is none or there are several.
std::optional<std::string_view> selection_key(const ObjectCursor& object) {
  std::optional<std::string_view> found;
  for (const std::string_view key : kSelections) {
    const Cursor member = object.optional(key);
    if (member.value == nullptr) continue;
    if (found) {
      member.fault(FaultKind::one_of_keys, kSelectionNames);
      return std::nullopt;
    }
    found = key;
  }
  if (!found && object.is_object())
    object.required(kSelections[0]).fault(FaultKind::one_of_keys, kSelectionNames);
  return found;
}

/// The number of a CAD face, where its name has one: "face 17", "bore (face 17)", and either with
/// the name of a part behind it.
std::optional<int> number_in(std::string_view name) {
  constexpr std::string_view kWord = "face ", kWithin = " (face ";
  const std::size_t within = name.rfind(kWithin);
  const bool is_bare = within == std::string_view::npos;
  if (is_bare && name.substr(0, kWord.size()) != kWord) return std::nullopt;
  const std::size_t begin = is_bare ? kWord.size() : within + kWithin.size();
  int number = 0;
  const auto [end, error] = std::from_chars(name.data() + begin, name.data() + name.size(), number);
  const std::string_view rest = name.substr(static_cast<std::size_t>(end - name.data()));
  const bool is_whole =
      error == std::errc() &&
      (is_bare ? rest.empty() || rest.substr(0, 4) == " of " : rest.substr(0, 1) == ")");
  return is_whole ? std::optional(number) : std::nullopt;
}

/// The faces of a mesh by their numbers, ascending; in an assembly several may share one. Where no
/// face has a number of its own they are counted from 1.
std::vector<std::pair<int, std::uint32_t>> numbered_faces(const Mesh& mesh) {
  std::vector<std::pair<int, std::uint32_t>> numbered;
  for (std::uint32_t face = 0; face < mesh.face_names.size(); ++face)
    if (const auto number = number_in(mesh.face_names[face])) numbered.emplace_back(*number, face);
  if (numbered.empty())
    for (std::uint32_t face = 0; face < mesh.face_names.size(); ++face)
      numbered.emplace_back(static_cast<int>(face) + 1, face);
  std::sort(numbered.begin(), numbered.end());
  return numbered;
}

/// The faces that a list of numbers means; none, and told, where one of them means none.
std::vector<std::uint32_t> read_faces(const Cursor& at, const Mesh* mesh) {
  const JsonList* entries =
      expect_list(at, {"a list of at least one face's number", 1, kMostSurfaceFaces});
  std::vector<std::uint32_t> faces;
  if (entries == nullptr || mesh == nullptr) return faces;
  const auto numbered = numbered_faces(*mesh);
  bool is_whole = true;
  for (std::size_t i = 0; i < entries->size(); ++i) {
    const Cursor entry = entry_of(at, *entries, i);
    const auto number = read_whole(entry, kFaceNumber);
    auto face = numbered.end();
    if (number) face = std::lower_bound(numbered.begin(), numbered.end(), std::pair(*number, 0U));
    const bool is_known = face != numbered.end() && face->first == *number;
    if (number && !is_known)
      entry.fault(FaultKind::unknown_name, "a face of the body: its number, as features tells it");
    is_whole = is_whole && is_known;
    for (; is_known && face != numbered.end() && face->first == *number; ++face)
      faces.push_back(face->second);
  }
  if (!is_whole) faces.clear();
  return faces;
}

std::optional<std::array<Vec3, 2>> read_box(const Cursor& at, const SceneReading& reading) {
  const ObjectCursor object(at);
  object.allow({"box"});
  const Cursor box_at = object.required("box");
  const JsonList* corners = expect_list(box_at, {"a list of two corners [x, y, z]", 2, 2});
  if (corners == nullptr || corners->size() != 2) return std::nullopt;
  std::array<Vec3, 2> box;
  bool is_whole = true;
  for (std::size_t i = 0; i < 2; ++i) {
    const auto corner = read_vec3(entry_of(box_at, *corners, i), kCoordinate);
    is_whole = is_whole && corner.has_value();
    if (corner) box[i] = *corner * reading.mm_per_unit();
  }
  if (!is_whole) return std::nullopt;
  if (!(box[0].array() < box[1].array()).all()) {
    box_at.fault(FaultKind::out_of_range,
                 "two corners, the first with the lesser x, y and z, the second with the greater");
    return std::nullopt;
  }
  return box;
}

/// Of the ball that must rest at each touch, mm.
double resting_radius(const Scene& scene, std::vector<TargetId> targets) {
  if (targets.empty()) targets = all_targets(scene);
  std::optional<double> full, stylus;
  for (const TargetId target : targets) {
    // A hole adapter touches no surface.
    if (target.index >= target_count(scene) || hole_adapter(scene, target) != nullptr) continue;
    std::optional<double>& least = is_full_target(scene, target) ? full : stylus;
    const double radius = touching_radius(scene, target);
    least = std::min(least.value_or(radius), radius);
  }
  return full ? *full : stylus.value_or(0);
}

struct SurfacePart {
  Cursor selection_at, spacing_at;
  std::string_view key;
};

void tell_none(NoTouches why, const SurfacePart& part, double ball_diameter) {
  switch (why) {
    case NoTouches::too_many:
      part.spacing_at.fault(FaultKind::too_many_touches, kMostSurfaceTouches);
      return;
    case NoTouches::no_rest:
      part.selection_at.fault(
          FaultKind::no_touches,
          fmt::format("a part of the surface on which a ball of {:.6g} mm can rest off its edges",
                      ball_diameter));
      return;
    case NoTouches::nothing_selected:
      part.selection_at.fault(FaultKind::no_touches,
                              part.key == "polygon"
                                  ? "a polygon with some surface of the body over it that faces up"
                              : part.key == "faces" ? "faces that have an area"
                                                    : "a box with some surface of the body in it");
  }
}

}  // namespace

SurfaceFeature read_surface(const ObjectCursor& object, const std::optional<Pose>& world_from_frame,
                            const std::vector<TargetId>& targets, const SceneReading& reading) {
  SurfaceFeature surface;
  const Scene& scene = reading.result.scene;
  const Cursor body_at = object.required("body"), spacing_at = object.required("spacing");
  std::optional<std::size_t> body;
  if (const auto name = read_name(body_at)) body = reading.body_names.find(body_at, *name);
  const auto spacing = read_number(spacing_at, kLength);
  const Cursor share_at = object.optional("share");
  const auto share = read_number(share_at, kShare);
  surface.share = share.value_or(surface.share);
  const auto key = selection_key(object);
  const bool has_meshes = reading.result.meshes.size() == scene.bodies.size();
  const Mesh* mesh = body && has_meshes ? reading.result.meshes[*body].get() : nullptr;
  if (!key) return surface;
  SurfaceSelection selection;
  if (world_from_frame) selection.frame_from_world = world_from_frame->inverse();
  const Cursor selection_at = object.required(*key);
  bool is_whole = mesh != nullptr && spacing && (share || share_at.value == nullptr);
  if (*key == "polygon") {
    selection.polygon = read_polygon(selection_at, reading).value_or(std::vector<Vec2>{});
    is_whole = is_whole && !selection.polygon.empty();
  } else if (*key == "inside") {
    selection.inside = read_box(selection_at, reading);
    is_whole = is_whole && selection.inside;
  } else {
    selection.faces = read_faces(selection_at, mesh);
    is_whole = is_whole && !selection.faces.empty();
  }
  if (!is_whole) return surface;
  surface.body = BodyId(*body);
  surface.spacing = reading.mm(*spacing);
  const double radius = resting_radius(scene, targets);
  RaisedTouches raised = raise_touches(*mesh, selection, {surface.spacing, radius});
  if (raised.why_none) tell_none(*raised.why_none, {selection_at, spacing_at, *key}, 2 * radius);
  surface.touches = std::move(raised.touches);
  return surface;
}

}  // namespace standpoint
