#include <array>
#include <cmath>
#include <system_error>

#include "geometry/trigonometry.h"
#include "io/read/scene/nearest_file.h"
#include "io/read/scene/read_values.h"
#include "io/read/scene/scene_limits.h"
#include "io/read/scene/scene_parts.h"
#include "io/words/units.h"

namespace standpoint {
namespace {

constexpr std::array<std::string_view, 3> kRoles{"part", "fixture", "surroundings"};

/// Rotation about a coordinate axis, right-handed. Quarter turns come out exact: a part turned by
/// 90 degrees keeps its faces square to the axes, which rounding of pi/2 would spoil.
Mat3 rotation(Eigen::Index axis, double deg) {
  double cos = cosine(rad_from_deg(deg));
  double sin = sine(rad_from_deg(deg));
  if (std::fmod(deg, 90) == 0) {
    cos = std::round(cos);
    sin = std::round(sin);
  }
  const Eigen::Index next = (axis + 1) % 3, after = (axis + 2) % 3;
  Mat3 turn = Mat3::Identity();
  turn(next, next) = cos;
  turn(next, after) = -sin;
  turn(after, next) = sin;
  turn(after, after) = cos;
  return turn;
}

/// Rotation about fixed x, then y, then z, then the shift (contract section 2).
Pose read_pose(const Cursor& at, const SceneReading& reading) {
  Pose pose = Pose::Identity();
  if (at.value == nullptr) return pose;
  const ObjectCursor object(at);
  object.allow({"translate", "rotate_xyz_deg"});
  const auto shift = read_vec3(object.optional("translate"), kCoordinate);
  const auto turns = read_vec3(object.optional("rotate_xyz_deg"), kTurn);
  if (turns)
    pose.linear() = rotation(2, turns->z()) * rotation(1, turns->y()) * rotation(0, turns->x());
  if (shift) pose.translation() = *shift * reading.result.scene.mm_per_unit;
  return pose;
}

std::filesystem::path path_from_utf8(const std::string& text) {
  return {std::u8string(text.begin(), text.end())};
}

/// The mesh that was most likely meant by one that is missing, as the scene would name it.
std::string nearest_mesh(const std::filesystem::path& folder, const std::filesystem::path& file) {
  std::error_code error;
  if (std::filesystem::exists(file, error)) return "";
  const std::filesystem::path near = nearest_file(file);
  return (folder.empty() || near.empty() ? near : near.lexically_relative(folder)).string();
}

/// Loads a mesh into `body`; the tree takes finite vertices only, so others are a fault.
void load_mesh(const Cursor& at, const std::filesystem::path& folder, const BodyRequest& request,
               const BodyLoader& load, Body& body, SceneFile& result) {
  auto loaded = load(request);
  if (!loaded) {
    at.fault_near(FaultKind::mesh_unreadable, nearest_mesh(folder, request.file), loaded.error());
    return;
  }
  std::size_t lost = 0;
  for (const Vec3& vertex : loaded->mesh.vertices) lost += vertex.allFinite() ? 0 : 1;
  if (lost > 0) {
    at.fault(FaultKind::mesh_not_finite, lost);
    return;
  }
  result.meshes.push_back(std::make_shared<const Mesh>(std::move(loaded->mesh)));
  body.placement = loaded->placement;
  result.bodies.push_back(std::move(loaded->report));
}

void read_body_entry(const Cursor& at, std::size_t index, const std::filesystem::path& folder,
                     const BodyLoader& load, SceneReading& reading) {
  const ObjectCursor object(at);
  object.allow({"name", "role", "mesh", "mesh_units", "pose"});
  Body body;
  body.name = read_own_name(object, reading.body_names, index);
  const auto role = read_choice(object.required("role"), kRoles);
  body.role = static_cast<BodyRole>(role.value_or(0));
  const auto units = read_choice(object.optional("mesh_units"), kUnitNames);
  BodyRequest request;
  if (units) request.mm_per_unit = kMmPerUnit[*units];
  request.default_mm_per_unit = reading.scene().mm_per_unit;
  request.chord_tolerance = reading.scene().chord_tolerance;
  request.world_from_body = read_pose(object.optional("pose"), reading);
  const Cursor mesh_at = object.required("mesh");
  if (const auto mesh = read_text(mesh_at, kLongestPath)) {
    request.file = folder / path_from_utf8(*mesh);
    load_mesh(mesh_at, folder, request, load, body, reading.result);
  }
  reading.scene().bodies.push_back(std::move(body));
}

}  // namespace

void read_bodies(const Cursor& at, const std::filesystem::path& folder, const BodyLoader& load,
                 SceneReading& reading) {
  if (at.value == nullptr) return;
  if (at.value->as<JsonList>() == nullptr) reading.body_names.mark_incomplete();
  for_each_entry(at, {"a list of bodies"}, [&](const Cursor& entry, std::size_t i) {
    read_body_entry(entry, i, folder, load, reading);
  });
}

}  // namespace standpoint
