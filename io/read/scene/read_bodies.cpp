#include <array>

#include "io/read/bodies/plain_shapes.h"
#include "io/read/scene/read_values.h"
#include "io/read/scene/scene_limits.h"
#include "io/read/scene/scene_parts.h"
#include "io/words/units.h"

namespace standpoint {
namespace {

constexpr std::array<std::string_view, 3> kRoles{"part", "fixture", "surroundings"};

constexpr std::array<std::string_view, 4> kShapes{"mesh", "box", "cylinder", "floor"};
constexpr std::array<std::string_view, 9> kBodyKeys{
    "name", "role", "mesh", "box", "cylinder", "floor", "frame", "pose", "mesh_units"};
constexpr std::string_view kShapeNames = "mesh, box, cylinder, floor";

/// Where the body stands: its pose, in its frame where it names one.
Pose read_place(const ObjectCursor& body, const SceneReading& reading) {
  Pose pose = Pose::Identity();
  const Cursor at = body.optional("pose");
  if (at.value != nullptr) {
    const ObjectCursor object(at);
    object.allow({"translate", "rotate_xyz_deg"});
    pose = read_pose_keys(object, reading);
  }
  const auto frame = read_frame(body, reading);
  return frame ? *frame * pose : pose;
}

void take_body(ReadBody loaded, Body& body, SceneFile& result) {
  result.meshes.push_back(std::make_shared<const Mesh>(std::move(loaded.mesh)));
  body.placement = loaded.placement;
  result.bodies.push_back(std::move(loaded.report));
}

/// Loads a mesh into `body`; the tree takes finite vertices only, so others are a fault.
void load_mesh(const Cursor& at, const BodyRequest& request, Body& body, SceneReading& reading) {
  auto loaded = reading.sources->body(request);
  if (!loaded) {
    at.fault_near(FaultKind::mesh_unreadable, nearest_named(request.file, *reading.document),
                  loaded.error());
    return;
  }
  std::size_t lost = 0;
  for (const Vec3& vertex : loaded->mesh.vertices) lost += vertex.allFinite() ? 0 : 1;
  if (lost > 0) {
    at.fault(FaultKind::mesh_not_finite, lost);
    return;
  }
  take_body(std::move(*loaded), body, reading.result);
}

void read_mesh_file(const ObjectCursor& object, const Pose& world_from_body, Body& body,
                    SceneReading& reading) {
  const auto units = read_choice(object.optional("mesh_units"), kUnitNames);
  BodyRequest request;
  if (units) request.mm_per_unit = kMmPerUnit[*units];
  request.default_mm_per_unit = reading.mm_per_unit();
  request.chord_tolerance = reading.document->chord_tolerance;
  request.world_from_body = world_from_body;
  const Cursor at = object.required("mesh");
  const auto file = read_path(at, *reading.document, *reading.sources);
  if (!file) return;
  request.file = *file;
  request.within = reading.sources->within;
  load_mesh(at, request, body, reading);
}

/// The shape that one of the keys besides `mesh` states, lengths in the file's unit.
std::optional<PlainShape> read_plain_shape(std::string_view key, const ObjectCursor& body) {
  const Cursor at = body.required(key);
  const ObjectCursor object(at);
  if (key == "cylinder") {
    object.allow({"diameter", "height"});
    const auto diameter = read_number(object.required("diameter"), kLength);
    const auto height = read_number(object.required("height"), kLength);
    if (!diameter || !height) return std::nullopt;
    return PlainCylinder{*diameter, *height};
  }
  object.allow({"size"});
  const Cursor size_at = object.required("size");
  if (key == "floor") {
    const auto size = read_vec2(size_at, kLength);
    return size ? std::optional<PlainShape>(PlainFloor{*size}) : std::nullopt;
  }
  const auto size = read_vec3(size_at, kLength);
  return size ? std::optional<PlainShape>(PlainBox{*size}) : std::nullopt;
}

/// The one key that says what the body looks like; nothing, and told, where there is none or there
/// are several.
std::optional<std::string_view> shape_key(const ObjectCursor& object) {
  std::optional<std::string_view> found;
  for (const std::string_view key : kShapes) {
    const Cursor member = object.optional(key);
    if (member.value == nullptr) continue;
    if (found) {
      member.fault(FaultKind::one_of_keys, kShapeNames);
      return std::nullopt;
    }
    found = key;
  }
  if (!found && object.is_object()) {
    Cursor missing = object.required("mesh");
    missing.fault(FaultKind::one_of_keys, kShapeNames);
  }
  return found;
}

void read_body_entry(const Cursor& at, std::size_t index, SceneReading& reading) {
  const ObjectCursor object(at);
  Body body;
  body.name = read_own_name(object, reading.body_names, index);
  const auto role = read_choice(object.required("role"), kRoles);
  body.role = static_cast<BodyRole>(role.value_or(0));
  const Pose world_from_body = read_place(object, reading);
  const auto key = shape_key(object);
  const bool is_plain = key && *key != "mesh";
  object.allow(kBodyKeys);
  const Cursor unit_at = object.optional("mesh_units");
  if (is_plain && unit_at.value != nullptr)
    unit_at.fault(FaultKind::unknown_key, "name, role, frame, pose, " + std::string(*key));
  if (is_plain) {
    if (const auto shape = read_plain_shape(*key, object)) {
      take_body(plain_body(*shape, reading.mm_per_unit(), reading.document->chord_tolerance,
                           world_from_body),
                body, reading.result);
    }
  } else if (key) {
    read_mesh_file(object, world_from_body, body, reading);
  }
  reading.scene().bodies.push_back(std::move(body));
  reading.result.body_places.push_back(at.place());
}

}  // namespace

void read_bodies(const Cursor& at, SceneReading& reading) {
  if (at.value == nullptr) return;
  if (at.value->as<JsonList>() == nullptr) reading.body_names.mark_incomplete();
  const std::size_t first = reading.scene().bodies.size();
  for_each_entry(at, {"a list of bodies"}, [&](const Cursor& entry, std::size_t i) {
    read_body_entry(entry, first + i, reading);
  });
}

}  // namespace standpoint
