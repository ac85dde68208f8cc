#include <algorithm>
#include <array>
#include <numbers>
#include <utility>

#include <fmt/format.h>

#include "geometry/square_to.h"
#include "io/read/lists/face_points.h"
#include "io/read/lists/qif_features-inl.h"
#include "io/read/scene/points_in_line.h"
#include "io/read/scene/scene_limits.h"
#include "io/read/text/json_value.h"
#include "io/words/tolerances.h"

namespace standpoint {
namespace {

/// A cone's full angle is less than half a turn, even where degrees were rounded.
constexpr double kWidestCone = 0.99999 * std::numbers::pi;
/// A notch of at most a tenth of the round is allowed (contract section 8).
constexpr double kLeastRound = 0.9 * 2 * std::numbers::pi;
/// A border may lie this much of its size off its plane: what rounding in the document makes.
constexpr double kOffPlane = 1e-3;

/// One nominal and its definition, on the way to a feature.
class NominalReader {
 public:
  NominalReader(const QifValues& values, const ListOptions& options, pugi::xml_node nominal,
                pugi::xml_node definition)
      : values_(values), options_(options), nominal_(nominal), definition_(definition) {}

  /// Reads the nominal by its kind. Where it cannot be listed, `reason` says why.
  void read(std::string_view kind) {
    using Reader = void (NominalReader::*)();
    static const std::array<std::pair<std::string_view, Reader>, 10> kReaders{{
        {"PointFeatureNominal", &NominalReader::read_point},
        {"EdgePointFeatureNominal", &NominalReader::read_point},
        {"PlaneFeatureNominal", &NominalReader::read_plane},
        {"CircleFeatureNominal", &NominalReader::read_circle},
        {"CylinderFeatureNominal", &NominalReader::read_cylinder},
        {"ConeFeatureNominal", &NominalReader::read_cone},
        {"SphereFeatureNominal", &NominalReader::read_sphere},
        {"ElongatedCylinderFeatureNominal", &NominalReader::read_elongated},
        {"OppositeParallelPlanesFeatureNominal", &NominalReader::read_slot},
        {"LineFeatureNominal", &NominalReader::read_line},
    }};
    for (const auto& [name, reader] : kReaders)
      if (name == kind) return (this->*reader)();
    reason = "a kind that is not measured here";
  }

  ListedFeature listed;
  std::string reason;  ///< empty where it can be listed

 private:
  [[nodiscard]] FoundFeature& feature() { return listed.feature; }

  /// Takes a value that has been told where it is not there.
  static void take(double& member, std::optional<double> value) { member = value.value_or(0); }
  static void take(Vec3& member, std::optional<Vec3> value) {
    if (value) member = *value;
  }

  [[nodiscard]] std::string_view side() {
    return values_.word(definition_, "InternalExternal",
                        {"INTERNAL", "EXTERNAL", "NOT_APPLICABLE"});
  }

  /// Whether the feature goes all the way round but for a notch.
  [[nodiscard]] bool is_round() {
    const pugi::xml_node sweep = values_.xml().child(nominal_, "Sweep");
    if (!sweep) return true;
    const auto span = values_.span(sweep, "DomainAngle");
    return !span || *span >= kLeastRound;
  }

  [[nodiscard]] bool is_through() {
    const pugi::xml_node bottom = values_.xml().child(definition_, "Bottom");
    return trimmed_text(values_.xml().child(bottom, "BottomEnum")) == "THROUGH";
  }

  void take_upward(Vec3& member, std::optional<Vec3> stated, pugi::xml_node element) {
    listed.is_upward = !element;
    take(member, stated);
  }

  void read_point() {
    feature().kind = FoundKind::point;
    take(feature().centre, values_.at(nominal_, "Location"));
    take_upward(feature().axis, values_.optional_direction(nominal_, "Normal"),
                values_.xml().child(nominal_, "Normal"));
  }

  void read_plane() {
    feature().kind = FoundKind::plane;
    take(feature().centre, values_.at(nominal_, "Location"));
    take(feature().axis, values_.direction(nominal_, "Normal"));
    if (values_.xml().child(nominal_, "PointList")) {
      read_point_list();
    } else if (const pugi::xml_node line = values_.xml().child(nominal_, "PolyLine")) {
      if (const auto border = values_.points(line)) take_border(*border, line);
    } else if (const pugi::xml_node rectangle = values_.xml().child(nominal_, "Rectangle")) {
      read_rectangle(rectangle);
    } else if (const pugi::xml_node circle = values_.xml().child(nominal_, "Circle")) {
      read_round_border(circle);
    } else {
      reason = "a plane whose extent is not stated";
    }
    // Its location may lie beside its face.
    if (!feature().points.empty()) feature().centre = feature().points.front();
  }

  void take_border(const std::vector<Vec3>& border, pugi::xml_node element) {
    double size = 0;
    double off = 0;
    for (const Vec3& corner : border) {
      size = std::max(size, (corner - border.front()).norm());
      off = std::max(off, std::abs((corner - feature().centre).dot(feature().axis)));
    }
    if (off > kOffPlane * size)
      return values_.fault(
          element, FaultKind::other,
          fmt::format("points in the plane; one of them is {:.3g} mm off it", off));
    feature().points = points_within(border, feature().centre, feature().axis);
    if (feature().points.empty()) reason = "a plane whose border has no area";
  }

  void read_rectangle(pugi::xml_node rectangle) {
    const auto corner = values_.at(rectangle, "CornerPoint");
    const auto length = values_.length(rectangle, "Length");
    const auto width = values_.length(rectangle, "Width");
    const auto along = values_.direction(rectangle, "LengthDirection");
    const auto across = values_.direction(rectangle, "WidthDirection");
    if (!corner || !length || !width || !along || !across) return;
    const Vec3 l = *length * *along;
    const Vec3 w = *width * *across;
    take_border({*corner, *corner + l, *corner + l + w, *corner + w}, rectangle);
  }

  /// Four points at four fifths of the radius.
  void read_round_border(pugi::xml_node circle) {
    const auto centre = values_.at(circle, "CenterPoint");
    const auto diameter = values_.length(circle, "Diameter");
    if (!centre || !diameter) return;
    const Vec3 u = 0.4 * *diameter * any_perpendicular(feature().axis);
    const Vec3 v = feature().axis.cross(u);
    feature().points = {*centre + u, *centre + v, *centre - u, *centre - v};
  }

  /// The points at which the document wants the plane touched.
  void read_point_list() {
    const pugi::xml_node list = values_.xml().child(nominal_, "PointList");
    for (pugi::xml_node id = list.first_child(); id; id = id.next_sibling()) {
      if (values_.xml().name(id) != "WholePointSetId") {
        reason = "a plane whose points are parts of a set";
        return;
      }
      const pugi::xml_node set = values_.referred(id, "NominalPointSet");
      for (pugi::xml_node point = set.first_child(); point; point = point.next_sibling())
        if (const auto at = values_.at(point, "Point")) feature().points.push_back(*at);
    }
    if (feature().points.size() < 3 || feature().points.size() > kMostPlanePoints ||
        are_in_line(feature().points)) {
      reason = fmt::format("a plane of {} points, which do not fix it or are more than {}",
                           feature().points.size(), kMostPlanePoints);
    }
  }

  void read_circle() {
    feature().kind = FoundKind::hole;
    take(feature().centre, values_.at(nominal_, "Location"));
    take(feature().axis, values_.direction(nominal_, "Normal"));
    take(feature().diameter, values_.length(definition_, "Diameter"));
    feature().depth = feature().diameter / 2;
    listed.has_usual_depth = true;
    if (const std::string_view side = this->side(); !side.empty() && side != "INTERNAL")
      reason = "a circle that is no hole has no length";
    if (!is_round()) reason = "a part of a circle";
  }

  void read_cylinder() {
    const pugi::xml_node axis = values_.xml().child(nominal_, "Axis");
    Vec3 start = Vec3::Zero();
    Vec3 inward = Vec3::UnitZ();
    if (axis) {
      take(start, values_.at(axis, "AxisPoint"));
      take(inward, values_.direction(axis, "Direction"));
    } else {
      values_.missing(nominal_, "Axis", "an axis");
    }
    take(feature().diameter, values_.length(definition_, "Diameter"));
    const auto length = values_.optional_length(definition_, "Length");
    const std::string_view side = this->side();
    const std::string_view role = qif_role(values_.xml(), nominal_);
    const bool is_narrow =
        role.empty() ? feature().diameter <= options_.holes_up_to : role == "hole";
    const bool is_hole = side == "INTERNAL" && is_narrow;
    feature().kind = is_hole ? FoundKind::hole : FoundKind::cylinder;
    feature().hollow = side == "INTERNAL";
    feature().axis = -inward;
    feature().centre = is_hole ? start : Vec3(start + length.value_or(0) / 2 * inward);
    feature().depth = is_hole ? length.value_or(feature().diameter / 2) : 0;
    feature().length = is_hole ? 0 : length.value_or(0);
    feature().through = is_hole && is_through();
    listed.has_usual_depth = is_hole && !length;
    if (side == "NOT_APPLICABLE") reason = "a cylinder that is neither inside nor outside";
    if (!is_hole && !length && !values_.xml().child(definition_, "Length"))
      reason = "a cylinder whose length is not stated";
    if (!is_round()) reason = "a part of a cylinder";
  }

  /// The locating point may lie anywhere on the axis; ours is half-way between the ends.
  void read_cone() {
    feature().kind = FoundKind::cone;
    const pugi::xml_node axis = values_.xml().child(nominal_, "Axis");
    if (!axis) return values_.missing(nominal_, "Axis", "an axis");
    Vec3 at = Vec3::Zero();
    Vec3 widening = Vec3::UnitZ();
    take(at, values_.at(axis, "AxisPoint"));
    take(widening, values_.direction(axis, "Direction"));
    const auto diameter = values_.distance(definition_, "Diameter");
    const bool is_half = static_cast<bool>(values_.xml().child(definition_, "HalfAngle"));
    const auto angle = is_half ? values_.angle(definition_, "HalfAngle", kWidestCone / 2)
                               : values_.angle(definition_, "FullAngle", kWidestCone);
    const std::string_view side = this->side();
    if (!values_.xml().child(definition_, "LargeEndDistance")) {
      reason = "a cone whose ends are not stated";
      return;
    }
    const auto large = values_.distance(definition_, "LargeEndDistance");
    if (!diameter || !angle || !large) return;
    const double half = is_half ? *angle : *angle / 2;
    const bool is_pointed = !values_.xml().child(definition_, "SmallEndDistance");
    const auto small = is_pointed ? std::optional(-*diameter / 2 / tangent(half))
                                  : values_.distance(definition_, "SmallEndDistance");
    if (!small) return;
    const double middle = (*large + *small) / 2;
    feature().axis = -widening;  // toward where it narrows
    feature().centre = at + middle * widening;
    feature().length = *large - *small;
    feature().diameter = *diameter + 2 * middle * tangent(half);
    feature().angle_rad = 2 * half;
    feature().hollow = side == "INTERNAL";
    if (!(feature().length > 0 && feature().diameter > 0))
      reason = "a cone whose ends have no size";
    const double longest = feature().diameter / tangent(half);
    if (feature().length > longest * (1 + tolerance::kConeTip))
      reason = "a cone that goes on past its tip";
    if (!is_round()) reason = "a part of a cone";
  }

  void read_sphere() {
    feature().kind = FoundKind::sphere;
    take(feature().centre, values_.at(nominal_, "Location"));
    take(feature().diameter, values_.length(definition_, "Diameter"));
    if (const std::string_view side = this->side(); !side.empty() && side != "EXTERNAL")
      reason = "the inside of a sphere";
    const pugi::xml_node sweep = values_.xml().child(nominal_, "LatitudeLongitudeSweep");
    listed.is_upward = !sweep;
    if (!sweep) return;
    // What there is of it must go all the way round its pole, as touches do.
    take(feature().toward, values_.direction(sweep, "DirNorthPole"));
    const auto latitude = values_.ends(sweep, "DomainLatitude");
    const auto round = values_.span(sweep, "DomainLongitude");
    constexpr double kNearPole = 0.49 * std::numbers::pi;
    constexpr double kNearEquator =
        std::numbers::pi / 12;  // touches go down to 75 deg off the pole
    const bool is_cap = latitude && latitude->low <= kNearEquator && latitude->high >= kNearPole;
    if (latitude && round && !(is_cap && *round >= kLeastRound)) reason = "a part of a sphere";
  }

  /// Its location is where it begins (LineFeatureNominalType).
  void read_line() {
    feature().kind = FoundKind::line;
    for (const auto& [element, why] : {std::pair{"Length", "a line whose length is not stated"},
                                       {"Normal", "a line whose normal is not stated"}}) {
      if (values_.xml().child(nominal_, element)) continue;
      reason = why;
      return;
    }
    take(feature().centre, values_.at(nominal_, "Location"));
    take(feature().axis, values_.direction(nominal_, "Normal"));
    take(feature().length, values_.length(nominal_, "Length"));
    const auto along = values_.direction(nominal_, "Direction");
    if (!along) return;
    feature().points = {feature().centre, feature().centre + feature().length * *along};
    if (along->cross(feature().axis).norm() > tolerance::kSquareDirection) {
      feature().axis = square_to(*along, feature().axis);
    } else {
      reason = "a line along its own normal";
    }
  }

  /// `DepthVector` points into it (ElongatedCylinderFeatureNominalType).
  void read_elongated() {
    feature().kind = FoundKind::slot;
    const pugi::xml_node plane = values_.xml().child(nominal_, "CenterPlane");
    if (!plane) return values_.missing(nominal_, "CenterPlane", "a plane");
    const auto normal = values_.direction(plane, "Normal");
    const auto inward = values_.direction(nominal_, "DepthVector");
    take(feature().centre, values_.at(plane, "Point"));
    take(feature().width, values_.length(definition_, "Diameter"));
    take(feature().length, values_.length(definition_, "Length"));
    const auto depth = values_.optional_length(definition_, "Depth");
    feature().depth = depth.value_or(feature().width / 2);
    listed.has_usual_depth = !depth;
    if (const std::string_view side = this->side(); !side.empty() && side != "INTERNAL")
      reason = "an elongated cylinder that is no slot";
    if (normal && inward) take_directions(-*inward, *normal);
  }

  /// `DepthVector` points out of it (OppositeParallelPlanesFeatureNominalType).
  void read_slot() {
    feature().kind = FoundKind::slot;
    const pugi::xml_node ends = values_.xml().child(definition_, "EndType");
    const std::string_view side = this->side();
    if (side == "EXTERNAL" || trimmed_text(values_.xml().child(ends, "SlotEndEnum")) != "ROUND") {
      reason = "opposite planes without round ends";
      return;
    }
    const pugi::xml_node plane = values_.xml().child(nominal_, "CenterPlane");
    if (!plane) return values_.missing(nominal_, "CenterPlane", "a plane");
    const auto outward = values_.optional_direction(nominal_, "DepthVector");
    const auto middle = values_.at(plane, "Point");
    take(feature().width, values_.length(definition_, "Width"));
    const auto length = values_.optional_length(definition_, "Length");
    const auto depth = values_.optional_length(definition_, "Depth");
    if (!length || !depth || !outward || !values_.xml().child(nominal_, "LengthVector")) {
      reason = "a slot whose length, depth or directions are not stated";
      return;
    }
    const auto along = values_.direction(nominal_, "LengthVector");
    feature().length = *length;
    feature().depth = *depth;
    feature().through = is_through();
    feature().axis = *outward;
    if (middle) feature().centre = *middle + *depth / 2 * *outward;
    if (along && along->cross(*outward).norm() > tolerance::kSquareDirection) {
      feature().along = square_to(*outward, *along);
    } else if (along) {
      reason = "a slot whose directions are not square to one another";
    }
    check_slot();
  }

  void take_directions(const Vec3& outward, const Vec3& normal) {
    const Vec3 along = normal.cross(outward);
    feature().axis = outward;
    if (along.norm() > tolerance::kSquareDirection) {
      feature().along = along.normalized();
    } else {
      reason = "a slot whose directions are not square to one another";
    }
    check_slot();
  }

  void check_slot() {
    if (feature().length > 0 && feature().length <= feature().width)
      reason = "a slot no longer than wide";
  }

  const QifValues& values_;
  const ListOptions& options_;
  pugi::xml_node nominal_;
  pugi::xml_node definition_;
};

}  // namespace

std::string_view qif_role(const QifXml& xml, pugi::xml_node nominal) {
  const pugi::xml_node all = xml.child(nominal, "Attributes");
  for (pugi::xml_node one = all.first_child(); one; one = one.next_sibling())
    if (std::string_view(one.attribute("name").value()) == "role")
      return one.attribute("value").value();
  return {};
}

QifNominal read_qif_nominal(const QifValues& values, const ListOptions& options,
                            pugi::xml_node nominal, pugi::xml_node definition) {
  NominalReader reader(values, options, nominal, definition);
  reader.read(values.xml().name(nominal));
  return {std::move(reader.listed), std::move(reader.reason)};
}

}  // namespace standpoint
