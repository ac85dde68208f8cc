#include <map>

#include <fmt/format.h>

#include "io/words/lengths.h"
#include "io/words/names.h"
#include "io/write/qif/qif_parts-inl.h"
#include "planner/crew/work_order.h"

namespace standpoint::qif {
namespace {

/// The lists of features of a document under way.
class FeatureLists {
 public:
  FeatureLists(const Scene& scene, const Plan& plan, pugi::xml_node document, Ids& ids)
      : scene_(scene), plan_(plan), ids_(ids) {
    pugi::xml_node features = document.append_child("Features");
    definitions_ = features.append_child("FeatureDefinitions");
    nominals_ = features.append_child("FeatureNominals");
    items_ = features.append_child("FeatureItems");
    sets_ = features.append_child("NominalPointSets");
  }

  ItemIds add_all() {
    ItemIds all;
    for (std::size_t i = 0; i < scene_.features.size(); ++i) {
      const Feature& feature = scene_.features[i];
      const Named named =
          std::visit([&](const auto& shape) { return add_shape(feature, shape); }, feature.shape);
      all.nominals.push_back(named.nominal);
      all.features.push_back(add_item(named, feature.name, touches_of(FeatureId(i))));
    }
    for (const Nest& nest : scene_.nests) {
      pugi::xml_node nominal = begin("Point", nest.name, definition_of("Point"), "nest");
      add(nominal, "Location", place_text_of(scene_, nest.at));
      add(nominal, "Normal", direction_text_of(nest.normal));
      all.nests.push_back(add_item({"Point", id_of(nominal)}, nest.name, {}));
    }
    for (pugi::xml_node list : {definitions_, nominals_, items_, sets_}) {
      if (list.first_child()) {
        set_count(list);
      } else {
        list.parent().remove_child(list);
      }
    }
    return all;
  }

 private:
  struct Named {
    std::string kind;  ///< as the elements' names begin
    std::uint32_t nominal;
  };
  struct Touch {
    Vec3 at;
    Vec3 normal;
  };

  static std::uint32_t id_of(pugi::xml_node node) { return node.attribute("id").as_uint(); }

  /// Of points, planes, lines and surfaces the definitions say nothing: one for all of a kind.
  std::uint32_t definition_of(const char* kind) {
    std::uint32_t& id = plain_definitions_[kind];
    if (id == 0) id = identify(define(kind), ids_);
    return id;
  }

  pugi::xml_node define(const char* kind) {
    return definitions_.append_child(fmt::format("{}FeatureDefinition", kind).c_str());
  }

  /// The lengths follow the diameter, each as an element of its own.
  std::uint32_t define_round(const char* kind, bool is_inside, double diameter,
                             std::initializer_list<std::pair<const char*, double>> lengths) {
    pugi::xml_node node = define(kind);
    const std::uint32_t id = identify(node, ids_);
    add(node, "InternalExternal", is_inside ? "INTERNAL" : "EXTERNAL");
    add(node, "Diameter", length_text_of(scene_, diameter));
    for (const auto& [name, mm] : lengths) add(node, name, length_text_of(scene_, mm));
    return id;
  }

  /// A nominal up to where its kind's own elements begin. `role` tells what a QIF kind leaves open.
  pugi::xml_node begin(const char* kind, const std::string& name, std::uint32_t definition,
                       std::string_view role) {
    pugi::xml_node node = nominals_.append_child(fmt::format("{}FeatureNominal", kind).c_str());
    identify(node, ids_);
    if (!role.empty()) add_attribute(node, "role", role);
    add(node, "Name", name);
    add(node, "FeatureDefinitionId", definition);
    return node;
  }

  Named add_shape(const Feature& feature, const PointFeature& point) {
    pugi::xml_node node = begin("Point", feature.name, definition_of("Point"), "");
    add(node, "Location", place_text_of(scene_, point.at));
    add(node, "Normal", direction_text_of(point.normal));
    return {"Point", id_of(node)};
  }

  Named add_shape(const Feature& feature, const PlaneFeature& plane) {
    pugi::xml_node node = begin("Plane", feature.name, definition_of("Plane"), "");
    std::vector<Touch> points;
    for (const Vec3& at : plane.points) points.push_back({at, plane.normal});
    add_point_list(node, points);
    add(node, "Location", place_text_of(scene_, plane.points.front()));
    add(node, "Normal", direction_text_of(plane.normal));
    return {"Plane", id_of(node)};
  }

  /// The axis of the document points into the cylinder, ours out of it.
  void add_axis(pugi::xml_node node, const Vec3& start, const Vec3& outward) {
    pugi::xml_node axis = node.append_child("Axis");
    add(axis, "AxisPoint", place_text_of(scene_, start));
    add(axis, "Direction", direction_text_of(-outward));
  }

  Named add_shape(const Feature& feature, const HoleFeature& hole) {
    const std::uint32_t definition =
        define_round("Cylinder", true, 2 * hole.radius, {{"Length", hole.depth}});
    pugi::xml_node node = begin("Cylinder", feature.name, definition, "hole");
    add_axis(node, hole.centre, hole.axis);
    return {"Cylinder", id_of(node)};
  }

  Named add_shape(const Feature& feature, const CylinderFeature& cylinder) {
    const std::uint32_t definition = define_round("Cylinder", cylinder.inside, 2 * cylinder.radius,
                                                  {{"Length", cylinder.length}});
    pugi::xml_node node = begin("Cylinder", feature.name, definition, "cylinder");
    add_axis(node, cylinder.centre + cylinder.length / 2 * cylinder.axis, cylinder.axis);
    return {"Cylinder", id_of(node)};
  }

  /// The half about the pole that is measured: latitude 0 at the equator, 90 degrees at the pole.
  Named add_shape(const Feature& feature, const SphereFeature& sphere) {
    const std::uint32_t definition = define_round("Sphere", false, 2 * sphere.radius, {});
    pugi::xml_node node = begin("Sphere", feature.name, definition, "");
    add(node, "Location", place_text_of(scene_, sphere.centre));
    pugi::xml_node sweep = node.append_child("LatitudeLongitudeSweep");
    add(sweep, "DirMeridianPrime", direction_text_of(any_perpendicular(sphere.toward)));
    add(sweep, "DomainLatitude", "0 90");
    add(sweep, "DomainLongitude", "0 360");
    add(sweep, "DirNorthPole", direction_text_of(sphere.toward));
    return {"Sphere", id_of(node)};
  }

  Named add_shape(const Feature& feature, const LineFeature& line) {
    const Vec3 whole = line.to - line.from;
    pugi::xml_node node = begin("Line", feature.name, definition_of("Line"), "");
    add(node, "Location", place_text_of(scene_, line.from));
    add(node, "Direction", direction_text_of(whole.normalized()));
    add(node, "Length", length_text_of(scene_, whole.norm()));
    add(node, "Normal", direction_text_of(line.normal));
    return {"Line", id_of(node)};
  }

  /// The locating point is half-way along; the axis of the document points to where it widens.
  Named add_shape(const Feature& feature, const ConeFeature& cone) {
    const std::uint32_t definition = define_round("Cone", cone.inside, 2 * cone.radius, {});
    pugi::xml_node defined = definitions_.last_child();
    add(defined, "FullAngle", decimal_text(to_degrees(2 * cone.half_angle_rad)));
    add(defined, "LargeEndDistance", length_text_of(scene_, cone.length / 2));
    add(defined, "SmallEndDistance", length_text_of(scene_, -cone.length / 2));
    pugi::xml_node node = begin("Cone", feature.name, definition, "");
    add_axis(node, cone.centre, cone.axis);
    return {"Cone", id_of(node)};
  }

  /// The centre plane runs along the slot: its normal is square to length and axis.
  Named add_shape(const Feature& feature, const SlotFeature& slot) {
    const std::uint32_t definition = define_round("ElongatedCylinder", true, slot.width,
                                                  {{"Length", slot.length}, {"Depth", slot.depth}});
    pugi::xml_node node = begin("ElongatedCylinder", feature.name, definition, "");
    pugi::xml_node plane = node.append_child("CenterPlane");
    add(plane, "Point", place_text_of(scene_, slot.centre));
    add(plane, "Normal", direction_text_of(slot.axis.cross(slot.along)));
    add(node, "DepthVector", direction_text_of(-slot.axis));
    return {"ElongatedCylinder", id_of(node)};
  }

  Named add_shape(const Feature& feature, const SurfaceFeature& surface) {
    constexpr const char* kKind = "PointDefinedSurface";
    pugi::xml_node node = begin(kKind, feature.name, definition_of(kKind), "");
    pugi::xml_node points = node.append_child("DefiningPoints");
    std::uint32_t number = 0;
    for (const PointFeature& touch : surface.touches) {
      pugi::xml_node point = points.append_child("DefiningPoint");
      identify(point, ids_);
      add(point, "Point", place_text_of(scene_, touch.at));
      add(point, "Normal", direction_text_of(touch.normal));
      add(point, "SequenceNumber", ++number);
    }
    set_count(points);
    return {kKind, id_of(node)};
  }

  /// Where the plan touches a feature, from its station or from those that share it.
  [[nodiscard]] std::vector<Touch> touches_of(FeatureId feature) const {
    const PlannedFeature& planned = plan_.features[feature.index];
    std::vector<Touch> touches;
    const FeatureMark* mark = mark_of(plan_, planned);
    if (mark == nullptr) return touches;
    for (std::size_t t = 0; t < mark->touches.size(); ++t)
      if (reached_by_target(*mark, t) != nullptr)
        touches.push_back({mark->touches[t].at, mark->touches[t].normal});
    return touches;
  }

  std::uint32_t add_item(const Named& named, const std::string& name,
                         const std::vector<Touch>& touches) {
    pugi::xml_node item = items_.append_child((named.kind + "FeatureItem").c_str());
    const std::uint32_t id = identify(item, ids_);
    add(item, "FeatureNominalId", named.nominal);
    add(item, "FeatureName", name);
    add_point_list(item, touches);
    item.append_child("DeterminationMode").append_child("Checked");
    return id;
  }

  void add_point_list(pugi::xml_node node, const std::vector<Touch>& points) {
    if (points.empty()) return;
    pugi::xml_node set = sets_.append_child("NominalPointSet");
    const std::uint32_t id = identify(set, ids_);
    for (const Touch& touch : points) {
      pugi::xml_node point = set.append_child("MeasurePoint");
      identify(point, ids_);
      add(point, "Point", place_text_of(scene_, touch.at));
      add(point, "Normal", direction_text_of(touch.normal));
    }
    set_count(set);
    pugi::xml_node list = node.append_child("PointList");
    add(list, "WholePointSetId", id);
    set_count(list);
  }

  const Scene& scene_;
  const Plan& plan_;
  Ids& ids_;
  pugi::xml_node definitions_;
  pugi::xml_node nominals_;
  pugi::xml_node items_;
  pugi::xml_node sets_;
  std::map<std::string, std::uint32_t> plain_definitions_;  ///< by kind
};

}  // namespace

ItemIds add_features(const Scene& scene, const Plan& plan, pugi::xml_node document, Ids& ids) {
  return FeatureLists(scene, plan, document, ids).add_all();
}

void add_tolerances(const Scene& scene, const ItemIds& items, std::uint32_t standard,
                    pugi::xml_node document, Ids& ids) {
  pugi::xml_node all = document.append_child("Characteristics");
  add(all, "FormalStandardId", standard);
  pugi::xml_node definitions = all.append_child("CharacteristicDefinitions");
  pugi::xml_node nominals = all.append_child("CharacteristicNominals");
  for (std::size_t i = 0; i < scene.features.size(); ++i) {
    const Feature& feature = scene.features[i];
    if (!feature.tolerance) continue;
    const bool is_hole = std::holds_alternative<HoleFeature>(feature.shape);
    const std::string kind = is_hole ? "Position" : "SurfaceProfile";
    pugi::xml_node definition =
        definitions.append_child((kind + "CharacteristicDefinition").c_str());
    const std::uint32_t id = identify(definition, ids);
    add(definition, "ToleranceValue", length_text_of(scene, *feature.tolerance));
    if (is_hole) {
      add(definition, "MaterialCondition", "NONE");
      definition.append_child("ZoneShape").append_child("DiametricalZone");
    }
    pugi::xml_node nominal = nominals.append_child((kind + "CharacteristicNominal").c_str());
    identify(nominal, ids);
    add(nominal, "CharacteristicDefinitionId", id);
    add_ids(nominal, "FeatureNominalIds", {items.nominals[i]});
  }
  set_count(definitions);
  set_count(nominals);
  if (!definitions.first_child()) document.remove_child(all);
}

}  // namespace standpoint::qif
