#include "io/read/cad/annotation_records.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "io/words/tolerances.h"

namespace standpoint {
namespace {

using Kind = Part21Value::Kind;

bool ends_with(std::string_view text, std::string_view with) {
  return text.size() >= with.size() && text.substr(text.size() - with.size()) == with;
}

template <std::size_t n>
bool is_one_of(std::string_view type, const std::array<std::string_view, n>& types) {
  return std::find(types.begin(), types.end(), type) != types.end();
}

constexpr std::array<std::string_view, 4> kRelations = {
    "SHAPE_ASPECT_RELATIONSHIP", "SHAPE_ASPECT_DERIVING_RELATIONSHIP", "SHAPE_ASPECT_ASSOCIATIVITY",
    "FEATURE_FOR_DATUM_TARGET_RELATIONSHIP"};

constexpr std::array<std::string_view, 2> kUsages = {"GEOMETRIC_ITEM_SPECIFIC_USAGE",
                                                     "ITEM_IDENTIFIED_REPRESENTATION_USAGE"};

/// Items that hold faces, directly or by way of others of these.
constexpr std::array<std::string_view, 11> kHoldFaces = {"CLOSED_SHELL",
                                                         "OPEN_SHELL",
                                                         "CONNECTED_FACE_SET",
                                                         "MANIFOLD_SOLID_BREP",
                                                         "BREP_WITH_VOIDS",
                                                         "ORIENTED_CLOSED_SHELL",
                                                         "ORIENTED_OPEN_SHELL",
                                                         "FACETED_BREP",
                                                         "SHELL_BASED_SURFACE_MODEL",
                                                         "FACE_BASED_SURFACE_MODEL",
                                                         "COMPOUND_REPRESENTATION_ITEM"};

constexpr std::array<std::string_view, 18> kOthers = {"SHAPE_DEFINITION_REPRESENTATION",
                                                      "SHAPE_REPRESENTATION_RELATIONSHIP",
                                                      "SHAPE_DIMENSION_REPRESENTATION",
                                                      "DIMENSIONAL_CHARACTERISTIC_REPRESENTATION",
                                                      "TOLERANCE_VALUE",
                                                      "TOLERANCE_ZONE",
                                                      "TOLERANCE_ZONE_FORM",
                                                      "PROJECTED_ZONE_DEFINITION",
                                                      "NON_UNIFORM_ZONE_DEFINITION",
                                                      "PRODUCT_DEFINITION_SHAPE",
                                                      "COMMON_DATUM",
                                                      "CONVERSION_BASED_UNIT",
                                                      "LENGTH_UNIT",
                                                      "PLANE_ANGLE_UNIT",
                                                      "SI_UNIT",
                                                      "ANGULAR_SIZE",
                                                      "ANGULAR_LOCATION",
                                                      "REFERENCED_MODIFIED_DATUM"};

bool is_representation(std::string_view type) {
  return ends_with(type, "SHAPE_REPRESENTATION") || type == "REPRESENTATION";
}

/// Types that begin or end like these, and those of the lists above, are asked for by someone.
bool is_for_annotation(std::string_view type) {
  return ends_with(type, "_TOLERANCE") || ends_with(type, "SHAPE_ASPECT") ||
         type.substr(0, 20) == "GEOMETRIC_TOLERANCE_" || type == "DATUM" ||
         type.substr(0, 6) == "DATUM_" || ends_with(type, "_TARGET_FEATURE") ||
         type.substr(0, 12) == "DIMENSIONAL_" || ends_with(type, "MEASURE_WITH_UNIT") ||
         ends_with(type, "MEASURE_REPRESENTATION_ITEM") || is_representation(type) ||
         is_one_of(type, kRelations) || is_one_of(type, kUsages) || is_one_of(type, kHoldFaces) ||
         is_one_of(type, kOthers);
}

/// All references within a value.
void add_references(const Part21Value& value, std::vector<std::uint64_t>& ids) {
  if (value.kind == Kind::reference) ids.push_back(value.reference);
  for (const Part21Value& item : value.items) add_references(item, ids);
}

double si_factor(std::string_view prefix) {
  constexpr std::array<std::pair<std::string_view, double>, 16> kFactors = {{{"EXA", 1e18},
                                                                             {"PETA", 1e15},
                                                                             {"TERA", 1e12},
                                                                             {"GIGA", 1e9},
                                                                             {"MEGA", 1e6},
                                                                             {"KILO", 1e3},
                                                                             {"HECTO", 1e2},
                                                                             {"DECA", 1e1},
                                                                             {"DECI", 1e-1},
                                                                             {"CENTI", 1e-2},
                                                                             {"MILLI", 1e-3},
                                                                             {"MICRO", 1e-6},
                                                                             {"NANO", 1e-9},
                                                                             {"PICO", 1e-12},
                                                                             {"FEMTO", 1e-15},
                                                                             {"ATTO", 1e-18}}};
  const auto* const found = std::find_if(
      kFactors.begin(), kFactors.end(), [&](const auto& factor) { return factor.first == prefix; });
  return found == kFactors.end() ? 1 : found->second;
}

}  // namespace

double rounded_length(double mm) {
  // By the step's inverse, which is a whole number, so that 0.254 comes out as 0.254 is written.
  constexpr double kStepsInMm = 1 / tolerance::kAnnotationStep;
  return std::round(mm * kStepsInMm) / kStepsInMm;
}

AnnotationRecords::AnnotationRecords(std::string_view text,
                                     std::map<std::uint64_t, std::size_t> face_numbers)
    : records_(part21_records(text, is_for_annotation)), face_numbers_(std::move(face_numbers)) {
  for (std::size_t i = 0; i < records_.size(); ++i) {
    if (place_.try_emplace(records_[i].id, i).second) note(records_[i]);
  }
  // Points and curves are most of a file: they are read only where someone asks for them.
  if (const auto drawn = items_without_faces(); !drawn.empty()) {
    axis_faces_ = AxisFaces(text, face_numbers_, drawn);
  }
}

void AnnotationRecords::note(const Part21Record& record) {
  if (record.is_damaged || record.entities.empty()) return;
  const std::string& type = record.entities.front().type;
  if (is_one_of(type, kUsages)) {
    const Part21Value* const item = value_of(record, type, 0, 4);
    if (item != nullptr) items_[reference_of(value_of(record, type, 0, 2))].push_back(item);
  } else if (is_one_of(type, kRelations)) {
    note_relation(record);
  } else if (type == "SHAPE_DEFINITION_REPRESENTATION") {
    representations_[reference_of(value_of(record, type, 0, 0))].push_back(
        reference_of(value_of(record, type, 0, 1)));
  } else if (type == "SHAPE_REPRESENTATION_RELATIONSHIP") {
    // Complex instances are those of an assembly, which place one part in another.
    const std::uint64_t one = reference_of(value_of(record, type, 0, 2));
    const std::uint64_t other = reference_of(value_of(record, type, 0, 3));
    representations_[one].push_back(other);
    representations_[other].push_back(one);
  }
}

void AnnotationRecords::note_relation(const Part21Record& record) {
  const std::string& type = record.entities.front().type;
  const std::uint64_t whole = reference_of(value_of(record, type, 0, 2));
  const std::uint64_t part = reference_of(value_of(record, type, 0, 3));
  parts_[whole].push_back(part);
  related_to_[part].push_back(whole);
}

const Part21Record* AnnotationRecords::find(std::uint64_t id) const {
  const auto found = place_.find(id);
  return found == place_.end() ? nullptr : &records_[found->second];
}

const Part21Value* AnnotationRecords::value_of(const Part21Record& record, std::string_view type,
                                               std::size_t inherited, std::size_t place) {
  const std::vector<Part21Value>* values = nullptr;
  if (!record.is_complex) {
    values = record.entities.empty() ? nullptr : &record.entities.front().values;
    place += inherited;
  }
  for (const Part21Entity& entity : record.entities) {
    if (record.is_complex && entity.type == type) values = &entity.values;
  }
  return values != nullptr && place < values->size() ? &(*values)[place] : nullptr;
}

std::uint64_t AnnotationRecords::reference_of(const Part21Value* value) {
  return value != nullptr && value->kind == Kind::reference ? value->reference : 0;
}

std::string AnnotationRecords::text_of(const Part21Value* value) {
  return value != nullptr && value->kind == Kind::text ? value->text : std::string();
}

bool AnnotationRecords::is_a(const Part21Record& record, std::string_view type) {
  return std::any_of(record.entities.begin(), record.entities.end(),
                     [&](const Part21Entity& entity) { return entity.type == type; });
}

std::optional<Measured> AnnotationRecords::measured(const Part21Value* reference) const {
  const Part21Record* const record = find(reference_of(reference));
  if (record == nullptr) return std::nullopt;
  for (const Part21Entity& entity : record->entities) {
    for (std::size_t i = 0; i + 1 < entity.values.size(); ++i) {
      const Part21Value& value = entity.values[i];
      const bool is_angle = ends_with(value.text, "PLANE_ANGLE_MEASURE");
      if (value.kind != Kind::typed || value.items.size() != 1 ||
          value.items.front().kind != Kind::number ||
          !(is_angle || ends_with(value.text, "LENGTH_MEASURE"))) {
        continue;
      }
      const std::optional<double> factor = unit(reference_of(&entity.values[i + 1]), 0);
      if (!factor) return std::nullopt;
      const double amount = value.items.front().number * *factor;
      return Measured{is_angle ? amount : rounded_length(amount), is_angle,
                      text_of(value_of(*record, "REPRESENTATION_ITEM", 0, 0))};
    }
  }
  return std::nullopt;
}

/// How many mm or rad a unit is.
std::optional<double> AnnotationRecords::unit(std::uint64_t id, int depth) const {
  const Part21Record* const record = find(id);
  if (record == nullptr || depth > 4) return std::nullopt;  // a unit of a unit of ...: none has it
  if (is_a(*record, "SI_UNIT")) {
    const Part21Value* const prefix = value_of(*record, "SI_UNIT", 1, 0);
    const Part21Value* const name = value_of(*record, "SI_UNIT", 1, 1);
    const bool is_metre = name != nullptr && name->text == "METRE";
    return (prefix != nullptr ? si_factor(prefix->text) : 1) * (is_metre ? 1000 : 1);
  }
  const Part21Record* const by =
      find(reference_of(value_of(*record, "CONVERSION_BASED_UNIT", 1, 1)));
  if (!is_a(*record, "CONVERSION_BASED_UNIT") || by == nullptr) return std::nullopt;
  for (const Part21Entity& entity : by->entities) {
    if (entity.values.size() >= 2 && entity.values[0].kind == Kind::typed &&
        entity.values[0].items.size() == 1) {
      const std::optional<double> factor = unit(reference_of(&entity.values[1]), depth + 1);
      if (factor) return entity.values[0].items.front().number * *factor;
    }
  }
  return std::nullopt;
}

AppliesTo AnnotationRecords::applies_to(std::uint64_t aspect) const {
  AppliesTo found;
  std::vector<std::uint64_t> aspects;
  std::set<std::uint64_t> seen = {aspect};
  for (std::vector<std::uint64_t> ahead = {aspect}; !ahead.empty();) {
    const std::uint64_t id = ahead.back();
    ahead.pop_back();
    if (const Part21Record* const record = find(id);
        record != nullptr && is_a(*record, "PRODUCT_DEFINITION_SHAPE")) {
      found.whole_part = true;
      found.faces.merge(faces_of_part(id));
      continue;
    }
    if (const auto items = items_.find(id); items != items_.end()) {
      for (const Part21Value* const item : items->second) collect_faces(*item, found.faces);
    }
    aspects.push_back(id);
    const auto parts = parts_.find(id);
    if (parts == parts_.end()) continue;
    for (const std::uint64_t part : parts->second) {
      // From a datum's feature to the datum itself is no step to a part.
      const Part21Record* const record = find(part);
      const bool is_datum =
          record != nullptr && (is_a(*record, "DATUM") || is_a(*record, "COMMON_DATUM"));
      if (!is_datum && seen.insert(part).second) ahead.push_back(part);
    }
  }
  if (found.faces.empty() && !found.whole_part) {
    for (const std::uint64_t id : aspects) found.faces.merge(faces_about_axes(id));
  }
  return found;
}

const std::vector<std::uint64_t>& AnnotationRecords::related_to(std::uint64_t aspect) const {
  static const std::vector<std::uint64_t> none;
  const auto found = related_to_.find(aspect);
  return found == related_to_.end() ? none : found->second;
}

std::set<std::uint64_t> AnnotationRecords::items_without_faces() const {
  std::set<std::uint64_t> ids;
  for (const auto& [aspect, items] : items_) {
    for (const Part21Value* const item : items) {
      std::set<std::size_t> faces;
      collect_faces(*item, faces);
      std::vector<std::uint64_t> references;
      if (faces.empty()) add_references(*item, references);
      ids.insert(references.begin(), references.end());
    }
  }
  return ids;
}

/// The round faces about the axes that an aspect itself stands for, of its own part.
std::set<std::size_t> AnnotationRecords::faces_about_axes(std::uint64_t aspect) const {
  std::set<std::size_t> faces;
  const auto items = items_.find(aspect);
  if (items == items_.end()) return faces;
  const Part21Record* const record = find(aspect);
  const std::uint64_t shape =
      record == nullptr ? 0 : reference_of(value_of(*record, "SHAPE_ASPECT", 0, 2));
  const std::set<std::size_t> of_part = faces_of_part(shape);
  for (const Part21Value* const item : items->second) {
    std::vector<std::uint64_t> references;
    add_references(*item, references);
    for (const std::uint64_t id : references) {
      faces.merge(axis_faces_.of(id, of_part.empty() ? nullptr : &of_part));
    }
  }
  return faces;
}

/// Adds the faces that an item is or holds. Edges and points hold none.
void AnnotationRecords::collect_faces(const Part21Value& item, std::set<std::size_t>& faces) const {
  std::vector<std::uint64_t> ahead;
  add_references(item, ahead);
  std::set<std::uint64_t> seen;
  while (!ahead.empty()) {
    const std::uint64_t id = ahead.back();
    ahead.pop_back();
    if (!seen.insert(id).second) continue;
    if (const auto face = face_numbers_.find(id); face != face_numbers_.end()) {
      faces.insert(face->second);
      continue;
    }
    const Part21Record* const record = find(id);
    if (record == nullptr || !is_one_of(record->entities.front().type, kHoldFaces)) continue;
    for (const Part21Value& value : record->entities.front().values) add_references(value, ahead);
  }
}

std::set<std::size_t> AnnotationRecords::faces_of_part(std::uint64_t shape) const {
  std::set<std::size_t> faces;
  std::set<std::uint64_t> seen = {shape};
  for (std::vector<std::uint64_t> ahead = {shape}; !ahead.empty();) {
    const std::uint64_t id = ahead.back();
    ahead.pop_back();
    const Part21Record* const record = find(id);
    if (record != nullptr && is_representation(record->entities.front().type)) {
      const Part21Value* const items = value_of(*record, "REPRESENTATION", 0, 1);
      if (items != nullptr) collect_faces(*items, faces);
    }
    const auto beside = representations_.find(id);
    if (beside == representations_.end()) continue;
    for (const std::uint64_t other : beside->second) {
      if (seen.insert(other).second) ahead.push_back(other);
    }
  }
  return faces;
}

}  // namespace standpoint
