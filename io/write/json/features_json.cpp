#include "io/write/json/features_json.h"

#include <nlohmann/json.hpp>

#include "io/words/json_parts.h"
#include "io/words/lengths.h"
#include "io/write/json/annotation_json.h"

namespace standpoint {
namespace {

Json place(const Vec3& p) {
  return Json::array({json::number(p.x()), json::number(p.y()), json::number(p.z())});
}

const char* type_of(const FoundFeature& feature) {
  return feature.kind == FoundKind::cylinder ? "cylinder" : kind_word(feature);
}

const char* side_of(const FoundFeature& feature) {
  return feature.hollow ? "inside" : "outside";
}

/// What a scene's feature of the kind has.
void add_form(const FoundFeature& f, Json& object) {
  const auto centre_and_axis = [&] {
    object["centre"] = place(f.centre);
    object["axis"] = json::direction(f.axis);
  };
  switch (f.kind) {
    case FoundKind::hole:
      centre_and_axis();
      object["diameter"] = json::number(f.diameter);
      object["depth"] = json::number(f.depth);
      break;
    case FoundKind::slot:
      centre_and_axis();
      object["along"] = json::direction(f.along);
      object["width"] = json::number(f.width);
      object["length"] = json::number(f.length);
      object["depth"] = json::number(f.depth);
      break;
    case FoundKind::cylinder:
    case FoundKind::cone:
      centre_and_axis();
      object["diameter"] = json::number(f.diameter);
      if (f.kind == FoundKind::cone) object["angle"] = json::number(to_degrees(f.angle_rad));
      object["length"] = json::number(f.length);
      object["side"] = side_of(f);
      break;
    case FoundKind::sphere:
      object["centre"] = place(f.centre);
      object["diameter"] = json::number(f.diameter);
      object["toward"] = json::direction(f.toward);
      break;
    case FoundKind::plane:
      object["points"] = Json::array();
      for (const Vec3& p : f.points) object["points"].push_back(place(p));
      object["normal"] = json::direction(f.axis);
      break;
    case FoundKind::point:
      object["at"] = place(f.centre);
      object["normal"] = json::direction(f.axis);
      break;
  }
}

/// What was found beside it.
void add_findings(const FoundFeature& f, Json& object) {
  if (f.kind == FoundKind::hole || f.kind == FoundKind::slot ||
      (f.kind == FoundKind::cylinder && !f.steps.empty()))
    object["through"] = f.through;
  if (!f.steps.empty()) {
    object["steps"] = Json::array();
    for (const HoleStep& step : f.steps)
      object["steps"].push_back(Json{{"centre", place(step.centre)},
                                     {"diameter", json::number(step.diameter)},
                                     {"depth", json::number(step.depth)}});
  }
  if (f.tip) object["tip"] = true;
  if (f.countersink > 0) object["countersink"] = json::number(f.countersink);
  // A scene's sphere is touched from outside and has no such key.
  if (f.kind == FoundKind::sphere && f.hollow) object["side"] = side_of(f);
  if (f.area > 0) object["area"] = json::number(f.area);
  if (f.fit) {
    object["fit"] = {{"rms", json::number(f.fit->rms)}, {"region", f.fit->triangles}};
    object["fit"]["worst"] = json::number(f.fit->worst);
    object["fit"]["of"] = f.fit->of_triangles;
    object["fit"]["doubtful"] = f.fit->doubtful;
  }
  if (f.tolerance) object["tolerance"] = json::number(*f.tolerance);
  if (!f.tolerance_from.empty()) object["tolerance_from"] = json::text(f.tolerance_from);
  if (f.datum) object["datum"] = true;
  if (!f.component.empty()) object["component"] = json::text(f.component);
}

Json feature_object(const PartAnswer& part, const FoundFeature& feature) {
  Json object;
  object["name"] = json::text(feature.name);
  object["type"] = type_of(feature);
  add_form(feature, object);
  add_findings(feature, object);
  object["from"]["file"] = json::text(part.file.string());
  object["from"]["faces"] = feature.faces;
  return object;
}

Json file_object(const PartAnswer& part) {
  Json object;
  object["file"] = json::text(part.file.string());
  object["format"] = part.format;
  object["solids"] = part.solids;
  object["faces"] = part.faces;
  object["loose_faces"] = part.loose_faces;
  object["found"] = part.found;
  object["listed"] = part.features.size();
  return object;
}

/// What of QIF documents is sound but cannot be listed.
Json passed_over(const FeaturesAnswer& answer) {
  Json list = Json::array();
  for (const PartAnswer& part : answer.parts) {
    for (const PassedOver& one : part.passed_over)
      list.push_back(Json{{"file", json::text(part.file.string())},
                          {"where", json::text(one.where)},
                          {"name", json::text(one.name)},
                          {"element", json::text(one.what)},
                          {"why", json::text(one.reason)}});
  }
  return list;
}

}  // namespace

std::string features_json(const FeaturesAnswer& answer) {
  Json object;
  object["format"] = "standpoint-features";
  object["version"] = 1;
  object["units"] = "mm";
  object["files"] = Json::array();
  object["features"] = Json::array();
  for (const PartAnswer& part : answer.parts) {
    object["files"].push_back(file_object(part));
    for (const FoundFeature& feature : part.features)
      object["features"].push_back(feature_object(part, feature));
  }
  object["passed_over"] = passed_over(answer);
  add_annotation(answer, object);
  return json::write(object);
}

}  // namespace standpoint
