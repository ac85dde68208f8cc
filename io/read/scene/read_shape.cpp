#include "io/read/scene/read_shape.h"

#include <algorithm>
#include <array>
#include "geometry/square_to.h"
#include "geometry/trigonometry.h"
#include "io/read/scene/points_in_line.h"
#include "io/read/scene/scene_limits.h"
#include "io/words/tolerances.h"
#include "io/words/units.h"

namespace standpoint {
namespace {

/// The types of features in the order of `Shape`, each with its own keys.
struct FeatureType {
  std::string_view word;
  std::vector<std::string_view> keys;
};
const std::array<FeatureType, 9>& types() {
  static const std::array<FeatureType, 9> all{{
      {"point", {"at", "normal", "points"}},
      {"plane", {"points", "normal"}},
      {"hole", {"centre", "axis", "diameter", "depth"}},
      {"cylinder", {"centre", "axis", "diameter", "length", "side"}},
      {"sphere", {"centre", "diameter", "toward"}},
      {"line", {"from", "to", "normal"}},
      {"cone", {"centre", "axis", "diameter", "angle", "length", "side"}},
      {"slot", {"centre", "axis", "along", "width", "length", "depth"}},
      {"surface", {"body", "polygon", "faces", "inside", "spacing", "share"}},
  }};
  return all;
}
constexpr std::array<std::string_view, 2> kSides{"inside", "outside"};

/// Reads the members of one feature that is no surface.
class ShapeReader {
 public:
  ShapeReader(const ObjectCursor& object, const SceneReading& reading)
      : object_(object), reading_(reading) {}

  [[nodiscard]] PointFeature point() const {
    return {place("at"), unit("normal"), read_flag(object_.optional("points")).value_or(false)};
  }

  [[nodiscard]] PlaneFeature plane() const { return {points("points"), unit("normal")}; }

  [[nodiscard]] HoleFeature hole() const {
    return {place("centre"), unit("axis"), length("diameter") / 2, length("depth")};
  }

  [[nodiscard]] CylinderFeature cylinder() const {
    CylinderFeature cylinder{place("centre"), unit("axis"), length("diameter") / 2,
                             length("length"), false};
    cylinder.inside = is_inside();
    return cylinder;
  }

  [[nodiscard]] SphereFeature sphere() const {
    return {place("centre"), unit("toward"), length("diameter") / 2};
  }

  [[nodiscard]] LineFeature line() const {
    const Cursor to_at = object_.required("to"), normal_at = object_.required("normal");
    const auto from = read_vec3(object_.required("from"), kCoordinate);
    const auto to = read_vec3(to_at, kCoordinate);
    const auto normal = read_direction(normal_at);
    if (!from || !to) return {};
    const Vec3 whole = *to - *from;
    if (whole == Vec3::Zero()) {
      to_at.fault(FaultKind::out_of_range, "another place than \"from\"");
      return {};
    }
    LineFeature line{*from * reading_.mm_per_unit(), *to * reading_.mm_per_unit(), Vec3::UnitZ()};
    if (normal) line.normal = squared(normal_at, whole.normalized(), *normal, "the line");
    return line;
  }

  [[nodiscard]] ConeFeature cone() const {
    ConeFeature cone;
    cone.centre = place("centre");
    cone.axis = unit("axis");
    const auto diameter = read_number(object_.required("diameter"), kLength);
    const auto angle = read_number(object_.required("angle"), kFullAngle);
    const Cursor length_at = object_.required("length");
    const auto length = read_number(length_at, kLength);
    cone.inside = is_inside();
    if (!diameter || !angle || !length) return cone;
    cone.radius = reading_.mm(*diameter / 2);
    cone.half_angle_rad = rad_from_deg(*angle / 2);
    cone.length = reading_.mm(*length);
    const double longest = *diameter / tangent(cone.half_angle_rad);
    if (*length > longest * (1 + tolerance::kConeTip))
      length_at.fault(FaultKind::cone_past_tip, longest);
    return cone;
  }

  [[nodiscard]] SlotFeature slot() const {
    SlotFeature slot;
    slot.centre = place("centre");
    const Cursor along_at = object_.required("along"), length_at = object_.required("length");
    const auto axis = read_direction(object_.required("axis"));
    const auto along = read_direction(along_at);
    const auto width = read_number(object_.required("width"), kLength);
    const auto length = read_number(length_at, kLength);
    slot.depth = this->length("depth");
    slot.axis = axis.value_or(Vec3::UnitZ());
    slot.along = any_perpendicular(slot.axis);
    if (axis && along) slot.along = squared(along_at, *axis, *along, "the slot's axis");
    if (!width || !length) return slot;
    slot.width = reading_.mm(*width);
    slot.length = reading_.mm(*length);
    if (*length <= *width) length_at.fault(FaultKind::slot_not_long, *width);
    return slot;
  }

 private:
  [[nodiscard]] Vec3 place(std::string_view key) const {
    const Vec3 place = read_vec3(object_.required(key), kCoordinate).value_or(Vec3::Zero());
    return {reading_.mm(place.x()), reading_.mm(place.y()), reading_.mm(place.z())};
  }

  [[nodiscard]] double length(std::string_view key) const {
    return reading_.mm(read_number(object_.required(key), kLength).value_or(0));
  }

  [[nodiscard]] Vec3 unit(std::string_view key) const {
    return read_direction(object_.required(key)).value_or(Vec3::UnitZ());
  }

  [[nodiscard]] bool is_inside() const {
    return read_choice(object_.required("side"), kSides) == std::optional<std::size_t>(0);
  }

  /// `direction` made square to the unit vector `axis`; a fault where it runs along it.
  static Vec3 squared(const Cursor& at, const Vec3& axis, const Vec3& direction,
                      std::string_view what) {
    if (axis.cross(direction).norm() > tolerance::kSquareDirection)
      return square_to(axis, direction);
    at.fault(FaultKind::parallel_direction, what);
    return any_perpendicular(axis);
  }

  [[nodiscard]] std::vector<Vec3> points(std::string_view key) const {
    const Cursor at = object_.required(key);
    const JsonList* entries =
        expect_list(at, {"a list of 3 to 1000 points [x, y, z]", 3, kMostPlanePoints});
    if (entries == nullptr) return {};
    std::vector<Vec3> points;
    for (std::size_t i = 0; i < entries->size(); ++i) {
      const auto point = read_vec3(entry_of(at, *entries, i), kCoordinate);
      if (point) points.emplace_back(*point * reading_.mm_per_unit());
    }
    const bool is_whole = points.size() == entries->size() && points.size() >= 3;
    if (!is_whole) return {};
    if (are_in_line(points)) at.fault(FaultKind::points_in_line);
    return points;
  }

  const ObjectCursor& object_;
  const SceneReading& reading_;
};

}  // namespace

std::optional<std::size_t> read_shape_type(const Cursor& at) {
  std::vector<std::string_view> words;
  for (const FeatureType& type : types()) words.push_back(type.word);
  return read_choice(at, words);
}

std::vector<std::string_view> shape_keys(std::optional<std::size_t> type) {
  if (type) return types()[*type].keys;
  std::vector<std::string_view> keys;
  for (const FeatureType& one : types())
    for (const std::string_view key : one.keys)
      if (std::find(keys.begin(), keys.end(), key) == keys.end()) keys.push_back(key);
  return keys;
}

Shape read_shape(const ObjectCursor& object, std::size_t type, const SceneReading& reading) {
  const ShapeReader reader(object, reading);
  switch (type) {
    case 0:
      return reader.point();
    case 1:
      return reader.plane();
    case 2:
      return reader.hole();
    case 3:
      return reader.cylinder();
    case 4:
      return reader.sphere();
    case 5:
      return reader.line();
    case 6:
      return reader.cone();
    default:
      return reader.slot();
  }
}

NumberRule touch_count_rule(const Shape& shape) {
  NumberRule rule = kTouchCount;
  if (const auto* plane = std::get_if<PlaneFeature>(&shape)) {
    const auto points = static_cast<double>(plane->points.size());
    return points >= 3 ? NumberRule{"the number of the plane's points", points, points} : rule;
  }
  if (std::holds_alternative<PointFeature>(shape)) return {"the number of a point's touches", 1, 1};
  if (std::holds_alternative<CylinderFeature>(shape)) rule.low = 5;
  if (std::holds_alternative<SphereFeature>(shape)) rule.low = 4;
  if (std::holds_alternative<LineFeature>(shape)) rule.low = 2;
  if (std::holds_alternative<ConeFeature>(shape)) rule.low = 6;
  if (std::holds_alternative<SlotFeature>(shape)) rule.low = 5;
  return rule;
}

}  // namespace standpoint
