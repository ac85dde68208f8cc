#include "io/read/cad/annotation_sizes.h"

#include <algorithm>
#include <array>
#include <utility>

namespace standpoint {
namespace {

using Records = AnnotationRecords;

/// What is told of one dimension, from wherever it stands.
struct Told {
  std::optional<Measured> nominal;
  std::optional<Measured> lower_limit;
  std::optional<Measured> upper_limit;
  std::optional<Measured> lower;  ///< deviation
  std::optional<Measured> upper;  ///< deviation
};

using ByDimension = std::unordered_map<std::uint64_t, Told>;

/// Names of values: those of the recommended practices of the standard's implementers, as the
/// public test files have them.
void note_value(const Measured& value, Told& told) {
  if (value.name == "lower limit") {
    told.lower_limit = value;
  } else if (value.name == "upper limit") {
    told.upper_limit = value;
  } else if (!told.nominal || value.name == "nominal value") {
    told.nominal = value;
  }
}

void note_values(const Records& records, const Part21Record& link, ByDimension& dimensions) {
  const Part21Record* const values = records.find(Records::reference_of(
      Records::value_of(link, "DIMENSIONAL_CHARACTERISTIC_REPRESENTATION", 0, 1)));
  const Part21Value* const items =
      values == nullptr ? nullptr : Records::value_of(*values, "REPRESENTATION", 0, 1);
  if (items == nullptr) return;
  Told& told = dimensions[Records::reference_of(
      Records::value_of(link, "DIMENSIONAL_CHARACTERISTIC_REPRESENTATION", 0, 0))];
  for (const Part21Value& item : items->items) {
    if (const auto value = records.measured(&item)) note_value(*value, told);
  }
}

void note_deviations(const Records& records, const Part21Record& record, ByDimension& dimensions) {
  const Part21Record* const range =
      records.find(Records::reference_of(Records::value_of(record, "PLUS_MINUS_TOLERANCE", 0, 0)));
  if (range == nullptr || !Records::is_a(*range, "TOLERANCE_VALUE")) return;
  Told& told =
      dimensions[Records::reference_of(Records::value_of(record, "PLUS_MINUS_TOLERANCE", 0, 1))];
  told.lower = records.measured(Records::value_of(*range, "TOLERANCE_VALUE", 0, 0));
  told.upper = records.measured(Records::value_of(*range, "TOLERANCE_VALUE", 0, 1));
}

/// Where a dimension has its name and its aspects: a size is of one, a location between two.
struct Form {
  std::string_view type;
  std::size_t name;
  std::array<std::size_t, 2> aspects;
};

constexpr std::array<Form, 6> kForms = {{{"DIMENSIONAL_SIZE", 1, {0, 0}},
                                         {"ANGULAR_SIZE", 1, {0, 0}},
                                         {"DIMENSIONAL_SIZE_WITH_DATUM_FEATURE", 5, {4, 4}},
                                         {"DIMENSIONAL_LOCATION", 0, {2, 3}},
                                         {"ANGULAR_LOCATION", 0, {2, 3}},
                                         {"DIRECTED_DIMENSIONAL_LOCATION", 0, {2, 3}}}};

/// Of a complex instance, the type under which the name and aspects stand.
std::string_view root_of(const Form& form) {
  return form.aspects[0] == form.aspects[1] ? "DIMENSIONAL_SIZE" : "SHAPE_ASPECT_RELATIONSHIP";
}

std::optional<SizeTolerance> size_of(const Records& records, const Part21Record& record,
                                     const Told& told) {
  const auto* const form = std::find_if(kForms.begin(), kForms.end(), [&](const Form& candidate) {
    return Records::is_a(record, candidate.type);
  });
  if (record.is_damaged || form == kForms.end()) return std::nullopt;
  SizeTolerance size;
  size.id = record.id;
  size.name = Records::text_of(Records::value_of(record, root_of(*form), 0, form->name));
  if (told.nominal) size.nominal = told.nominal->value;
  if (told.lower && told.upper) {
    size.is_angle = told.lower->is_angle;
    size.lower = told.lower->value;
    size.upper = told.upper->value;
  } else if (told.nominal && told.lower_limit && told.upper_limit) {
    size.is_angle = told.nominal->is_angle;
    const double lower = told.lower_limit->value - told.nominal->value;
    const double upper = told.upper_limit->value - told.nominal->value;
    size.lower = size.is_angle ? lower : rounded_length(lower);
    size.upper = size.is_angle ? upper : rounded_length(upper);
  } else {
    return std::nullopt;
  }
  if (!(size.lower <= size.upper)) return std::nullopt;
  std::set<std::size_t> faces;
  for (const std::size_t aspect : form->aspects) {
    const Part21Value* const on = Records::value_of(record, root_of(*form), 0, aspect);
    faces.merge(records.applies_to(Records::reference_of(on)).faces);
  }
  size.faces.assign(faces.begin(), faces.end());
  return size;
}

}  // namespace

std::vector<SizeTolerance> read_sizes(const AnnotationRecords& records) {
  ByDimension dimensions;
  for (const Part21Record& record : records.all()) {
    if (Records::is_a(record, "DIMENSIONAL_CHARACTERISTIC_REPRESENTATION")) {
      note_values(records, record, dimensions);
    } else if (Records::is_a(record, "PLUS_MINUS_TOLERANCE")) {
      note_deviations(records, record, dimensions);
    }
  }
  std::vector<SizeTolerance> sizes;
  for (const Part21Record& record : records.all()) {
    const auto told = dimensions.find(record.id);
    if (told == dimensions.end()) continue;
    if (auto size = size_of(records, record, told->second)) sizes.push_back(std::move(*size));
  }
  return sizes;
}

}  // namespace standpoint
