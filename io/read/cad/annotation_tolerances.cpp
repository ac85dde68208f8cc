#include "io/read/cad/annotation_tolerances.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "io/read/cad/annotation_datums.h"
#include "io/words/tolerance_words.h"

namespace standpoint {
namespace {

using Kind = Part21Value::Kind;
using Records = AnnotationRecords;

/// What geometric_tolerance gives all its subtypes: name, description, magnitude, what it is on.
constexpr std::size_t kOfTolerance = 4;

constexpr std::array<std::pair<std::string_view, ToleranceKind>, 15> kKinds = {
    {{"POSITION_TOLERANCE", ToleranceKind::position},
     {"COAXIALITY_TOLERANCE", ToleranceKind::coaxiality},
     {"CONCENTRICITY_TOLERANCE", ToleranceKind::coaxiality},
     {"SYMMETRY_TOLERANCE", ToleranceKind::symmetry},
     {"SURFACE_PROFILE_TOLERANCE", ToleranceKind::surface_profile},
     {"LINE_PROFILE_TOLERANCE", ToleranceKind::line_profile},
     {"TOTAL_RUNOUT_TOLERANCE", ToleranceKind::total_runout},
     {"CIRCULAR_RUNOUT_TOLERANCE", ToleranceKind::circular_runout},
     {"PERPENDICULARITY_TOLERANCE", ToleranceKind::perpendicularity},
     {"PARALLELISM_TOLERANCE", ToleranceKind::parallelism},
     {"ANGULARITY_TOLERANCE", ToleranceKind::angularity},
     {"FLATNESS_TOLERANCE", ToleranceKind::flatness},
     {"STRAIGHTNESS_TOLERANCE", ToleranceKind::straightness},
     {"ROUNDNESS_TOLERANCE", ToleranceKind::roundness},
     {"CYLINDRICITY_TOLERANCE", ToleranceKind::cylindricity}}};

/// The types of ISO 10303-47 that say more of a tolerance than its kind.
constexpr std::array<std::string_view, 8> kWithoutKind = {
    "GEOMETRIC_TOLERANCE",
    "GEOMETRIC_TOLERANCE_WITH_DATUM_REFERENCE",
    "GEOMETRIC_TOLERANCE_WITH_MODIFIERS",
    "GEOMETRIC_TOLERANCE_WITH_MAXIMUM_TOLERANCE",
    "GEOMETRIC_TOLERANCE_WITH_DEFINED_UNIT",
    "GEOMETRIC_TOLERANCE_WITH_DEFINED_AREA_UNIT",
    "MODIFIED_GEOMETRIC_TOLERANCE",
    "UNEQUALLY_DISPOSED_GEOMETRIC_TOLERANCE"};

std::optional<ToleranceKind> kind_of(const Part21Record& record) {
  for (const auto& [type, kind] : kKinds) {
    if (Records::is_a(record, type)) return kind;
  }
  return std::nullopt;
}

bool is_geometric_tolerance(const Part21Record& record) {
  return kind_of(record) ||
         std::any_of(kWithoutKind.begin(), kWithoutKind.end(),
                     [&](std::string_view type) { return Records::is_a(record, type); });
}

/// The kind for people; where none of the types is known, the one that may be the kind.
std::string kind_words(const Part21Record& record) {
  if (const auto kind = kind_of(record)) return std::string(tolerance_word(*kind));
  for (const Part21Entity& entity : record.entities) {
    if (std::find(kWithoutKind.begin(), kWithoutKind.end(), entity.type) == kWithoutKind.end()) {
      return entity.type;
    }
  }
  return "GEOMETRIC_TOLERANCE";
}

/// What the zones of a file say of its tolerances, by a tolerance's number.
struct Zones {
  std::unordered_map<std::uint64_t, ZoneShape> shapes;
  std::set<std::uint64_t> projected;
  std::set<std::uint64_t> not_uniform;
};

/// The names of zones are those of ISO 10303-47 and of the recommended practices of its
/// implementers (seen in the public test files; others from memory).
std::optional<ZoneShape> zone_shape(const std::string& form) {
  if (form == "cylindrical or circular" || form == "within a circle" ||
      form == "within a cylinder") {
    return ZoneShape::diameter;
  }
  if (form == "spherical" || form == "within a sphere") return ZoneShape::sphere;
  return std::nullopt;
}

void read_zone(const Records& records, const Part21Record& zone, Zones& zones) {
  const Part21Value* const tolerances = Records::value_of(zone, "TOLERANCE_ZONE", 4, 0);
  if (tolerances == nullptr) return;
  const Part21Record* const form =
      records.find(Records::reference_of(Records::value_of(zone, "TOLERANCE_ZONE", 4, 1)));
  const std::string name =
      form == nullptr ? ""
                      : Records::text_of(Records::value_of(*form, "TOLERANCE_ZONE_FORM", 0, 0));
  for (const Part21Value& tolerance : tolerances->items) {
    if (const auto shape = zone_shape(name)) zones.shapes[tolerance.reference] = *shape;
    if (name == "non uniform") zones.not_uniform.insert(tolerance.reference);
  }
}

Zones read_zones(const Records& records) {
  Zones zones;
  for (const Part21Record& record : records.all()) {
    const bool projected = Records::is_a(record, "PROJECTED_ZONE_DEFINITION");
    if (Records::is_a(record, "TOLERANCE_ZONE")) {
      read_zone(records, record, zones);
    } else if (projected || Records::is_a(record, "NON_UNIFORM_ZONE_DEFINITION")) {
      const Part21Record* const zone = records.find(
          Records::reference_of(Records::value_of(record, "TOLERANCE_ZONE_DEFINITION", 0, 0)));
      const Part21Value* const tolerances =
          zone == nullptr ? nullptr : Records::value_of(*zone, "TOLERANCE_ZONE", 4, 0);
      if (tolerances == nullptr) continue;
      for (const Part21Value& tolerance : tolerances->items) {
        (projected ? zones.projected : zones.not_uniform).insert(tolerance.reference);
      }
    }
  }
  return zones;
}

/// The length that a value leads to; of the modifiers' own.
std::optional<double> length(const Records& records, const Part21Value* value) {
  const std::optional<Measured> measured = records.measured(value);
  return measured && !measured->is_angle ? std::optional(measured->value) : std::nullopt;
}

std::vector<std::string> modifiers_of(const Records& records, const Part21Record& record,
                                      const Zones& zones) {
  std::vector<std::string> signs;
  const auto value = [&](std::string_view type) {
    // As a simple instance such a type has no kind, and is not read.
    return record.is_complex ? Records::value_of(record, type, 0, 0) : nullptr;
  };
  if (const Part21Value* const list = value("GEOMETRIC_TOLERANCE_WITH_MODIFIERS")) {
    for (const Part21Value& word : list->items) signs.push_back(modifier_sign(word.text));
  }
  if (const Part21Value* const word = value("MODIFIED_GEOMETRIC_TOLERANCE")) {
    signs.push_back(modifier_sign(word->text));
  }
  if (const Part21Value* const most = value("GEOMETRIC_TOLERANCE_WITH_MAXIMUM_TOLERANCE")) {
    if (const auto mm = length(records, most)) signs.push_back(fmt::format("MAX {:.6g}", *mm));
  }
  if (const Part21Value* const outward = value("UNEQUALLY_DISPOSED_GEOMETRIC_TOLERANCE")) {
    if (const auto mm = length(records, outward)) signs.push_back(fmt::format("(U) {:.6g}", *mm));
  }
  if (const Part21Value* const per = value("GEOMETRIC_TOLERANCE_WITH_DEFINED_UNIT")) {
    if (const auto mm = length(records, per)) signs.push_back(fmt::format("per {:.6g}", *mm));
  }
  if (zones.projected.contains(record.id)) signs.emplace_back("(P)");
  return signs;
}

/// Where the width is 0 the zone grows as the size departs from its limit of material.
bool may_be_zero(const std::vector<std::string>& modifiers) {
  return std::any_of(modifiers.begin(), modifiers.end(),
                     [](const std::string& sign) { return sign == "(M)" || sign == "(L)"; });
}

/// What the tolerance is on: an aspect, or the aspect that a dimension is of.
std::uint64_t aspect_of(const Records& records, const Part21Record& record) {
  const std::uint64_t on =
      Records::reference_of(Records::value_of(record, "GEOMETRIC_TOLERANCE", 0, 3));
  const Part21Record* const size = records.find(on);
  for (const std::string_view type : {"DIMENSIONAL_SIZE", "ANGULAR_SIZE"}) {
    if (size != nullptr && Records::is_a(*size, type)) {
      return Records::reference_of(Records::value_of(*size, "DIMENSIONAL_SIZE", 0, 0));
    }
  }
  return on;
}

/// Fills all but id, kind and name; else the reason why it cannot be read.
std::string fill(const Records& records, const Part21Record& record, const Zones& zones,
                 GeometricTolerance& tolerance) {
  const std::optional<Measured> width =
      records.measured(Records::value_of(record, "GEOMETRIC_TOLERANCE", 0, 2));
  if (!width || width->is_angle) return "it gives no width as a length with a unit";
  tolerance.width = width->value;
  tolerance.modifiers = modifiers_of(records, record, zones);
  const bool has_width = tolerance.width > 0 || may_be_zero(tolerance.modifiers);
  if (!std::isfinite(tolerance.width) || tolerance.width < 0 || !has_width) {
    return fmt::format("its width is {:g} mm", tolerance.width);
  }
  if (zones.not_uniform.contains(record.id))
    return "the width of its zone changes from place to place";
  if (const auto shape = zones.shapes.find(record.id); shape != zones.shapes.end()) {
    tolerance.zone = shape->second;
  }
  tolerance.datums = datum_references(
      records,
      Records::value_of(record, "GEOMETRIC_TOLERANCE_WITH_DATUM_REFERENCE", kOfTolerance, 0));
  const AppliesTo on = records.applies_to(aspect_of(records, record));
  tolerance.faces.assign(on.faces.begin(), on.faces.end());
  tolerance.whole_part = on.whole_part;
  tolerance.text = tolerance_words(tolerance);
  return {};
}

}  // namespace

void read_tolerances(const AnnotationRecords& records, Annotation& annotation) {
  const Zones zones = read_zones(records);
  for (const Part21Record& record : records.all()) {
    if (!is_geometric_tolerance(record)) continue;
    const std::string name =
        Records::text_of(Records::value_of(record, "GEOMETRIC_TOLERANCE", 0, 0));
    const std::optional<ToleranceKind> kind = kind_of(record);
    GeometricTolerance tolerance;
    std::string why;
    if (record.is_damaged) {
      why = "its record is damaged";
    } else if (!kind) {
      why = "its kind is not known";
    } else {
      tolerance.id = record.id;
      tolerance.kind = *kind;
      tolerance.name = name;
      why = fill(records, record, zones, tolerance);
    }
    if (why.empty()) {
      annotation.tolerances.push_back(std::move(tolerance));
    } else {
      annotation.not_read.push_back({record.id, kind_words(record), name, why, {}});
    }
  }
}

}  // namespace standpoint
