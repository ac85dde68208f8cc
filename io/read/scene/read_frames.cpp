#include <cmath>
#include <variant>

#include "geometry/square_to.h"
#include "geometry/trigonometry.h"
#include "io/read/scene/read_values.h"
#include "io/read/scene/scene_limits.h"
#include "io/read/scene/scene_parts.h"
#include "io/words/units.h"

namespace standpoint {
namespace {

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

struct PlaceShape {
  const Pose& pose;

  /// Again of length 1: a turn rounds.
  [[nodiscard]] Vec3 turned(const Vec3& direction) const {
    return (pose.linear() * direction).normalized();
  }
  void operator()(PointFeature& f) const {
    f.at = pose * f.at;
    f.normal = turned(f.normal);
  }
  void operator()(PlaneFeature& f) const {
    for (Vec3& point : f.points) point = pose * point;
    f.normal = turned(f.normal);
  }
  void operator()(HoleFeature& f) const {
    f.centre = pose * f.centre;
    f.axis = turned(f.axis);
  }
  void operator()(CylinderFeature& f) const {
    f.centre = pose * f.centre;
    f.axis = turned(f.axis);
  }
  void operator()(SphereFeature& f) const {
    f.centre = pose * f.centre;
    f.toward = turned(f.toward);
  }
  void operator()(LineFeature& f) const {
    f.from = pose * f.from;
    f.to = pose * f.to;
    f.normal = turned(f.normal);
  }
  void operator()(ConeFeature& f) const {
    f.centre = pose * f.centre;
    f.axis = turned(f.axis);
  }
  void operator()(SlotFeature& f) const {
    f.centre = pose * f.centre;
    f.axis = turned(f.axis);
    f.along = square_to(f.axis, turned(f.along));
  }
  /// Its touches are raised on the body, which stands in the scene already.
  void operator()(SurfaceFeature& /*f*/) const {}
};

}  // namespace

Pose read_pose_keys(const ObjectCursor& object, const SceneReading& reading) {
  Pose pose = Pose::Identity();
  const auto shift = read_vec3(object.optional("translate"), kCoordinate);
  const auto turns = read_vec3(object.optional("rotate_xyz_deg"), kTurn);
  if (turns)
    pose.linear() = rotation(2, turns->z()) * rotation(1, turns->y()) * rotation(0, turns->x());
  if (shift) pose.translation() = *shift * reading.mm_per_unit();
  return pose;
}

void read_frames(const Cursor& at, SceneReading& reading) {
  if (at.value == nullptr) return;
  SceneDocument& document = *reading.document;
  if (at.value->as<JsonList>() == nullptr) document.frame_names.mark_incomplete();
  for_each_entry(at, {"a list of frames"}, [&](const Cursor& entry, std::size_t i) {
    const ObjectCursor object(entry);
    object.allow({"name", "translate", "rotate_xyz_deg"});
    (void)read_own_name(object, document.frame_names, i);
    document.frames.push_back(read_pose_keys(object, reading));
  });
}

std::optional<Pose> read_frame(const ObjectCursor& object, const SceneReading& reading) {
  const Cursor at = object.optional("frame");
  const auto name = read_name(at);
  if (!name) return std::nullopt;
  const auto index = reading.document->frame_names.find(at, *name);
  if (!index) return std::nullopt;
  return reading.document->frames[*index];
}

void place_in_frame(const Pose& world_from_frame, Feature& feature) {
  std::visit(PlaceShape{world_from_frame}, feature.shape);
}

void place_in_frame(const Pose& world_from_frame, Nest& nest) {
  nest.at = world_from_frame * nest.at;
  nest.normal = (world_from_frame.linear() * nest.normal).normalized();
}

}  // namespace standpoint
