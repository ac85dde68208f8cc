#include "io/read/cad/annotation_axes.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <tuple>
#include <utility>

#include "io/read/cad/annotation_records.h"
#include "io/words/tolerances.h"

namespace standpoint {
namespace {

using Kind = Part21Value::Kind;

/// Sets within sets, curves trimmed of trimmed curves: files have one or two.
constexpr int kMostLinks = 8;

bool is_of_shape(std::string_view type) {
  constexpr std::array<std::string_view, 22> kTypes = {"CARTESIAN_POINT",
                                                       "DIRECTION",
                                                       "VECTOR",
                                                       "LINE",
                                                       "CIRCLE",
                                                       "TRIMMED_CURVE",
                                                       "AXIS1_PLACEMENT",
                                                       "AXIS2_PLACEMENT_3D",
                                                       "GEOMETRIC_CURVE_SET",
                                                       "GEOMETRIC_SET",
                                                       "CYLINDRICAL_SURFACE",
                                                       "CONICAL_SURFACE",
                                                       "ADVANCED_FACE",
                                                       "FACE_SURFACE",
                                                       "FACE_OUTER_BOUND",
                                                       "FACE_BOUND",
                                                       "EDGE_LOOP",
                                                       "ORIENTED_EDGE",
                                                       "EDGE_CURVE",
                                                       "VERTEX_LOOP",
                                                       "VERTEX_POINT",
                                                       "ORIENTED_FACE"};
  return std::find(kTypes.begin(), kTypes.end(), type) != kTypes.end();
}

/// How far `point` is from the line of `axis`.
double off_line(const Vec3& point, const Vec3& on_line, const Vec3& direction) {
  return (point - on_line).cross(direction).norm();
}

}  // namespace

/// Follows the records of one file.
class AxisFaces::Reader {
 public:
  explicit Reader(std::string_view text) : records_(part21_records(text, is_of_shape)) {
    for (const Part21Record& record : records_) {
      if (!record.is_damaged) by_id_.try_emplace(record.id, &record);
    }
  }

  /// The axis of what is drawn; nothing where it has none, or more than one.
  [[nodiscard]] std::optional<Axis> drawn(std::uint64_t item) const {
    std::vector<Axis> circles;
    std::vector<Axis> lines;
    collect(item, 0, circles, lines);
    if (circles.empty()) return lines.size() == 1 ? std::optional(lines.front()) : std::nullopt;
    // The picture of a cylinder: circles about its axis, and lines along it that tell its ends.
    Axis axis = circles.front();
    const auto reach_to = [&](const Vec3& point) {
      const double along = (point - axis.point).dot(axis.direction);
      axis.from = std::min(axis.from, along);
      axis.to = std::max(axis.to, along);
    };
    for (const Axis& circle : circles) {
      if (off_line(circle.point, axis.point, axis.direction) >
          tolerance::kOnDrawnAxis * *axis.radius) {
        return std::nullopt;
      }
      reach_to(circle.point);
    }
    for (const Axis& line : lines) {
      if (line.to <= line.from) continue;
      reach_to(line.point + line.from * line.direction);
      reach_to(line.point + line.to * line.direction);
    }
    return axis;
  }

  /// The face as a cylinder or cone; nothing where it is neither.
  [[nodiscard]] std::optional<RoundFace> round_face(std::uint64_t id, std::size_t number) const {
    const Part21Record* const face = find(id);
    if (face == nullptr) return std::nullopt;
    for (const char* const type : {"ADVANCED_FACE", "FACE_SURFACE"}) {
      const auto surface = round_surface(reference(*face, type, 2));
      if (!surface) continue;
      RoundFace found = *surface;
      found.number = number;
      found.axis.from = std::numeric_limits<double>::infinity();
      found.axis.to = -found.axis.from;
      if (const Part21Value* const bounds = value(*face, type, 1)) {
        reach_to_vertices(*bounds, 0, found.axis);
      }
      return found;
    }
    return std::nullopt;
  }

 private:
  [[nodiscard]] const Part21Record* find(std::uint64_t id) const {
    const auto found = by_id_.find(id);
    return found == by_id_.end() ? nullptr : found->second;
  }
  /// Place 0 is the name, as in a simple instance.
  [[nodiscard]] static const Part21Value* value(const Part21Record& record, std::string_view type,
                                                std::size_t place) {
    return AnnotationRecords::is_a(record, type)
               ? AnnotationRecords::value_of(record, type, 1, place - 1)
               : nullptr;
  }
  [[nodiscard]] static std::uint64_t reference(const Part21Record& record, std::string_view type,
                                               std::size_t place) {
    return AnnotationRecords::reference_of(value(record, type, place));
  }
  [[nodiscard]] static std::optional<double> number(const Part21Record& record,
                                                    std::string_view type, std::size_t place) {
    const Part21Value* const found = value(record, type, place);
    const bool is_number = found != nullptr && found->kind == Kind::number;
    return is_number ? std::optional(found->number) : std::nullopt;
  }

  [[nodiscard]] std::optional<Vec3> triple(std::uint64_t id, std::string_view type) const {
    const Part21Record* const record = find(id);
    const Part21Value* const list = record == nullptr ? nullptr : value(*record, type, 1);
    if (list == nullptr || list->items.size() != 3) return std::nullopt;
    const Vec3 found(list->items[0].number, list->items[1].number, list->items[2].number);
    return found.allFinite() ? std::optional(found) : std::nullopt;
  }
  [[nodiscard]] std::optional<Vec3> unit_direction(std::uint64_t id) const {
    const std::optional<Vec3> found = triple(id, "DIRECTION");
    return found && found->norm() > 0 ? std::optional<Vec3>(found->normalized()) : std::nullopt;
  }

  /// An axis without radius and ends.
  [[nodiscard]] std::optional<Axis> placement(std::uint64_t id) const {
    const Part21Record* const record = find(id);
    if (record == nullptr) return std::nullopt;
    for (const char* const type : {"AXIS2_PLACEMENT_3D", "AXIS1_PLACEMENT"}) {
      const auto point = triple(reference(*record, type, 1), "CARTESIAN_POINT");
      if (!point) continue;
      Axis axis;
      axis.point = *point;
      // Where none is told it is z (ISO 10303-42).
      axis.direction = unit_direction(reference(*record, type, 2)).value_or(Vec3::UnitZ());
      return axis;
    }
    return std::nullopt;
  }
  /// Of a circle or cylinder: its axis with its radius.
  [[nodiscard]] std::optional<Axis> round(const Part21Record& record, std::string_view type) const {
    std::optional<Axis> axis = placement(reference(record, type, 1));
    const std::optional<double> radius = number(record, type, 2);
    if (!axis || !radius || !(*radius > 0)) return std::nullopt;
    axis->radius = radius;
    return axis;
  }
  [[nodiscard]] std::optional<RoundFace> round_surface(std::uint64_t id) const {
    const Part21Record* const record = find(id);
    if (record == nullptr) return std::nullopt;
    RoundFace found;
    if (const auto cylinder = round(*record, "CYLINDRICAL_SURFACE")) {
      found.axis = *cylinder;
      return found;
    }
    // A cone may be placed at its tip, where its radius is 0.
    const auto cone = placement(reference(*record, "CONICAL_SURFACE", 1));
    if (!cone) return std::nullopt;
    found.axis = *cone;
    found.is_cone = true;
    return found;
  }

  /// A line, with its ends where a trimmed curve gives them.
  [[nodiscard]] std::optional<Axis> line(const Part21Record& record,
                                         const Part21Record* trimmed) const {
    const auto point = triple(reference(record, "LINE", 1), "CARTESIAN_POINT");
    const Part21Record* const vector = find(reference(record, "LINE", 2));
    if (!point || vector == nullptr) return std::nullopt;
    const auto direction = unit_direction(reference(*vector, "VECTOR", 1));
    const auto length = number(*vector, "VECTOR", 2);
    if (!direction || !length) return std::nullopt;
    Axis axis;
    axis.point = *point;
    axis.direction = *direction;
    if (trimmed == nullptr) return axis;
    const auto from = trim(value(*trimmed, "TRIMMED_CURVE", 2), axis, *length);
    const auto to = trim(value(*trimmed, "TRIMMED_CURVE", 3), axis, *length);
    if (from && to) std::tie(axis.from, axis.to) = std::minmax(*from, *to);
    return axis;
  }
  /// Where along the line a trim is: told as a parameter, in lengths of the vector, or as a point.
  [[nodiscard]] std::optional<double> trim(const Part21Value* list, const Axis& axis,
                                           double length) const {
    if (list == nullptr) return std::nullopt;
    for (const Part21Value& item : list->items) {
      if (item.kind == Kind::typed && item.items.size() == 1) {
        return item.items.front().number * length;
      }
      if (const auto point = triple(item.reference, "CARTESIAN_POINT")) {
        return (*point - axis.point).dot(axis.direction);
      }
    }
    return std::nullopt;
  }

  void collect(std::uint64_t id, int depth, std::vector<Axis>& circles,
               std::vector<Axis>& lines) const {
    const Part21Record* record = find(id);
    if (record == nullptr || depth > kMostLinks) return;
    for (const char* const type : {"GEOMETRIC_CURVE_SET", "GEOMETRIC_SET"}) {
      const Part21Value* const list = value(*record, type, 1);
      if (list == nullptr) continue;
      for (const Part21Value& item : list->items) {
        collect(item.reference, depth + 1, circles, lines);
      }
    }
    const Part21Record* const trimmed =
        AnnotationRecords::is_a(*record, "TRIMMED_CURVE") ? record : nullptr;
    if (trimmed != nullptr) record = find(reference(*trimmed, "TRIMMED_CURVE", 1));
    if (record == nullptr) return;
    for (const char* const type : {"CIRCLE", "CYLINDRICAL_SURFACE"}) {
      if (const auto circle = round(*record, type)) circles.push_back(*circle);
    }
    if (const auto found = line(*record, trimmed)) lines.push_back(*found);
    if (const auto found = placement(record->id)) lines.push_back(*found);
  }

  /// Stretches an axis to all vertices that a face's bounds lead to.
  void reach_to_vertices(const Part21Value& from, int depth, Axis& axis) const {
    for (const Part21Value& item : from.items) reach_to_vertices(item, depth, axis);
    const Part21Record* const record = find(from.reference);
    if (from.kind != Kind::reference || record == nullptr || depth > kMostLinks) return;
    if (const auto point = triple(reference(*record, "VERTEX_POINT", 1), "CARTESIAN_POINT")) {
      const double along = (*point - axis.point).dot(axis.direction);
      axis.from = std::min(axis.from, along);
      axis.to = std::max(axis.to, along);
      return;
    }
    constexpr std::array<std::string_view, 6> kLeadOn = {"FACE_OUTER_BOUND", "FACE_BOUND",
                                                         "EDGE_LOOP",        "ORIENTED_EDGE",
                                                         "EDGE_CURVE",       "VERTEX_LOOP"};
    for (const std::string_view type : kLeadOn) {
      if (!AnnotationRecords::is_a(*record, type)) continue;
      for (const Part21Value& value : record->entities.front().values) {
        reach_to_vertices(value, depth + 1, axis);
      }
    }
  }

  std::vector<Part21Record> records_;
  std::unordered_map<std::uint64_t, const Part21Record*> by_id_;
};

AxisFaces::AxisFaces(std::string_view text,
                     const std::map<std::uint64_t, std::size_t>& face_numbers,
                     const std::set<std::uint64_t>& items) {
  const Reader reader(text);
  for (const std::uint64_t item : items) {
    if (const auto axis = reader.drawn(item)) drawn_.emplace(item, *axis);
  }
  if (drawn_.empty()) return;
  for (const auto& [id, number] : face_numbers) {
    if (const auto face = reader.round_face(id, number)) faces_.push_back(*face);
  }
}

/// Whether the face lies beside a part of what is drawn, and not only end to end with it.
bool AxisFaces::share_a_stretch(const Axis& drawn, const RoundFace& face) {
  if (!(drawn.to > drawn.from) || !(face.axis.to > face.axis.from)) return true;
  const auto along = [&](double from_drawn) {
    return (drawn.point + from_drawn * drawn.direction - face.axis.point).dot(face.axis.direction);
  };
  const auto [from, to] = std::minmax({along(drawn.from), along(drawn.to)});
  return std::min(to, face.axis.to) - std::max(from, face.axis.from) >
         tolerance::kOnDrawnAxis * (face.axis.to - face.axis.from);
}

/// The faces of which the drawn line is the axis, or lies in the skin.
std::vector<const AxisFaces::RoundFace*> AxisFaces::beside(
    const Axis& drawn, bool in_skin, const std::set<std::size_t>* within) const {
  std::vector<const RoundFace*> found;
  for (const RoundFace& face : faces_) {
    // A cone has no one radius; the stretch that it takes tells how large it is.
    const double size = face.axis.radius.value_or(std::abs(face.axis.to - face.axis.from));
    const double off = off_line(drawn.point, face.axis.point, face.axis.direction);
    const double askew = drawn.direction.cross(face.axis.direction).norm();
    const double meant = in_skin ? size : 0;
    if ((within == nullptr || within->contains(face.number)) && !(in_skin && face.is_cone) &&
        askew <= tolerance::kOnDrawnAxis &&
        std::abs(off - meant) <= tolerance::kOnDrawnAxis * size && share_a_stretch(drawn, face)) {
      found.push_back(&face);
    }
  }
  return found;
}

std::set<std::size_t> AxisFaces::of(std::uint64_t item, const std::set<std::size_t>* within) const {
  const auto at = drawn_.find(item);
  if (at == drawn_.end()) return {};
  const Axis& drawn = at->second;
  std::vector<const RoundFace*> found = beside(drawn, false, within);
  if (found.empty() && !drawn.radius) found = beside(drawn, true, within);
  if (drawn.radius) {
    const auto misfit = [&](const RoundFace* face) {
      return face->is_cone ? std::numeric_limits<double>::infinity()
                           : std::abs(*face->axis.radius - *drawn.radius);
    };
    double least = std::numeric_limits<double>::max();
    for (const RoundFace* const face : found) least = std::min(least, misfit(face));
    found.erase(std::remove_if(found.begin(), found.end(),
                               [&](const RoundFace* face) {
                                 return misfit(face) >
                                        least + tolerance::kOnDrawnAxis * *drawn.radius;
                               }),
                found.end());
  }
  std::set<std::size_t> numbers;
  for (const RoundFace* const face : found) numbers.insert(face->number);
  return numbers;
}

}  // namespace standpoint
