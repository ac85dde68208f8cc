#include "io/write/json/annotation_json.h"

#include <nlohmann/json.hpp>

#include <fmt/format.h>

#include "io/words/lengths.h"
#include "io/words/tolerance_words.h"

namespace standpoint {
namespace {

std::string id_text(std::uint64_t id) {
  return fmt::format("#{}", id);
}

Json texts(const std::vector<std::string>& list) {
  Json array = Json::array();
  for (const std::string& text : list) array.push_back(json::text(text));
  return array;
}

Json of_file(const PartAnswer& part, const std::string& part_file) {
  Json object;
  object["file"] = json::text(part.file.string());
  if (!part_file.empty()) object["part_file"] = json::text(part_file);
  return object;
}

const char* zone_word(ZoneShape zone) {
  switch (zone) {
    case ZoneShape::width:
      return "width";
    case ZoneShape::diameter:
      return "diameter";
    case ZoneShape::sphere:
      break;
  }
  return "diameter of a ball";
}

Json tolerance_object(const PartAnswer& part, const GeometricTolerance& tolerance) {
  Json object = of_file(part, tolerance.part_file);
  object["id"] = id_text(tolerance.id);
  object["kind"] = tolerance_word(tolerance.kind);
  object["width"] = json::number(tolerance.width);
  object["zone"] = zone_word(tolerance.zone);
  object["modifiers"] = texts(tolerance.modifiers);
  object["datums"] = texts(tolerance.datums);
  object["faces"] = tolerance.faces;
  object["all_over"] = tolerance.whole_part;
  object["name"] = json::text(tolerance.name);
  object["text"] = json::text(tolerance.text);
  return object;
}

Json unread_object(const PartAnswer& part, const UnreadTolerance& unread) {
  Json object = of_file(part, unread.part_file);
  object["id"] = id_text(unread.id);
  object["kind"] = json::text(unread.kind);
  object["name"] = json::text(unread.name);
  object["why"] = json::text(unread.why);
  return object;
}

Json datum_object(const PartAnswer& part, const DatumFeature& datum) {
  Json object = of_file(part, datum.part_file);
  object["letter"] = json::text(datum.letter);
  object["faces"] = datum.faces;
  object["by_targets"] = datum.by_targets;
  return object;
}

Json dimension_object(const PartAnswer& part, const SizeTolerance& size) {
  const auto amount = [&](double value) {
    return json::number(size.is_angle ? to_degrees(value) : value);
  };
  Json object = of_file(part, size.part_file);
  object["id"] = id_text(size.id);
  object["name"] = json::text(size.name);
  object["unit"] = size.is_angle ? "degree" : "mm";
  object["nominal"] = size.nominal ? amount(*size.nominal) : Json(nullptr);
  object["lower"] = amount(size.lower);
  object["upper"] = amount(size.upper);
  object["faces"] = size.faces;
  return object;
}

}  // namespace

void add_annotation(const FeaturesAnswer& answer, Json& object) {
  std::size_t read = 0;
  Json not_read = Json::array();
  Json tolerances = Json::array();
  Json datums = Json::array();
  Json dimensions = Json::array();
  for (const PartAnswer& part : answer.parts) {
    const Annotation& annotation = part.annotation;
    read += annotation.tolerances.size();
    for (const auto& unread : annotation.not_read) not_read.push_back(unread_object(part, unread));
    for (const auto& one : annotation.tolerances) tolerances.push_back(tolerance_object(part, one));
    for (const auto& datum : annotation.datums) datums.push_back(datum_object(part, datum));
    for (const auto& size : annotation.sizes) dimensions.push_back(dimension_object(part, size));
  }
  object["annotation"]["read"] = read;
  object["annotation"]["not_read"] = std::move(not_read);
  object["tolerances"] = std::move(tolerances);
  object["datums"] = std::move(datums);
  object["dimensions"] = std::move(dimensions);
}

}  // namespace standpoint
