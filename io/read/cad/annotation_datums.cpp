#include "io/read/cad/annotation_datums.h"

#include <algorithm>
#include <array>
#include <utility>

namespace standpoint {
namespace {

using Kind = Part21Value::Kind;
using Records = AnnotationRecords;

/// What a datum and its feature inherit from shape_aspect: name, description, shape, whether on it.
constexpr std::size_t kOfAspect = 4;

std::string letter_of(const Part21Record& datum) {
  return Records::text_of(Records::value_of(datum, "DATUM", kOfAspect, 0));
}

bool is_target(const Part21Record& record) {
  return Records::is_a(record, "DATUM_TARGET") ||
         Records::is_a(record, "PLACED_DATUM_TARGET_FEATURE");
}

std::string signs_of(const Part21Value* modifiers) {
  std::string signs;
  if (modifiers == nullptr) return signs;
  for (const Part21Value& modifier : modifiers->items) {
    if (modifier.kind == Kind::typed && !modifier.items.empty()) {
      signs += modifier_sign(modifier.items.front().text);
    }
  }
  return signs;
}

std::string datum_reference(const Records& records, std::uint64_t id, int depth);

/// What a reference is based on: a datum, or several in common.
std::string base_words(const Records& records, const Part21Value* base, int depth) {
  if (base == nullptr) return "?";
  if (base->kind == Kind::reference) return datum_reference(records, base->reference, depth);
  const bool is_wrapped = base->kind == Kind::typed && base->items.size() == 1 &&
                          base->items.front().kind == Kind::list;
  std::string words;
  for (const Part21Value& item : is_wrapped ? base->items.front().items : base->items) {
    words +=
        (words.empty() ? "" : "-") + datum_reference(records, Records::reference_of(&item), depth);
  }
  return words.empty() ? "?" : words;
}

std::string datum_reference(const Records& records, std::uint64_t id, int depth) {
  const Part21Record* const record = records.find(id);
  if (record == nullptr || depth > 4) return "?";
  if (Records::is_a(*record, "DATUM")) {
    const std::string letter = letter_of(*record);
    return letter.empty() ? "?" : letter;
  }
  if (Records::is_a(*record, "DATUM_REFERENCE")) {  // of the first edition, with its precedence
    return base_words(records, Records::value_of(*record, "DATUM_REFERENCE", 0, 1), depth + 1);
  }
  if (Records::is_a(*record, "REFERENCED_MODIFIED_DATUM")) {
    const Part21Value* const word = Records::value_of(*record, "REFERENCED_MODIFIED_DATUM", 2, 0);
    return base_words(records, Records::value_of(*record, "DATUM_REFERENCE", 0, 1), depth + 1) +
           (word != nullptr ? modifier_sign(word->text) : "");
  }
  if (!Records::is_a(*record, "DATUM_REFERENCE_COMPARTMENT") &&
      !Records::is_a(*record, "DATUM_REFERENCE_ELEMENT")) {
    return "?";
  }
  return base_words(records, Records::value_of(*record, "GENERAL_DATUM_REFERENCE", kOfAspect, 0),
                    depth + 1) +
         signs_of(Records::value_of(*record, "GENERAL_DATUM_REFERENCE", kOfAspect, 1));
}

/// The aspects with which a datum target lies on its feature.
std::vector<std::uint64_t> with_features(const Records& records, std::uint64_t target) {
  std::vector<std::uint64_t> aspects = records.related_to(target);
  aspects.push_back(target);
  return aspects;
}

}  // namespace

std::string modifier_sign(const std::string& word) {
  constexpr std::array<std::pair<std::string_view, std::string_view>, 6> kSigns = {
      {{"MAXIMUM_MATERIAL_REQUIREMENT", "(M)"},
       {"LEAST_MATERIAL_REQUIREMENT", "(L)"},
       {"RECIPROCITY_REQUIREMENT", "(R)"},
       {"FREE_STATE", "(F)"},
       {"TANGENT_PLANE", "(T)"},
       {"COMMON_ZONE", "CZ"}}};
  for (const auto& [name, sign] : kSigns) {
    if (name == word) return std::string(sign);
  }
  std::string words = "(" + word + ")";
  std::transform(words.begin(), words.end(), words.begin(), [](char c) {
    return c == '_' ? ' ' : c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  });
  return words;
}

std::vector<std::string> datum_references(const AnnotationRecords& records,
                                          const Part21Value* references) {
  if (references == nullptr || references->kind != Kind::list) return {};
  std::vector<std::pair<double, std::string>> by_precedence;
  for (const Part21Value& reference : references->items) {
    if (reference.kind != Kind::reference) continue;
    const Part21Record* const record = records.find(reference.reference);
    const Part21Value* const compartments =
        record != nullptr && Records::is_a(*record, "DATUM_SYSTEM")
            ? Records::value_of(*record, "DATUM_SYSTEM", kOfAspect, 0)
            : nullptr;
    if (compartments != nullptr) {  // in order of precedence
      for (const Part21Value& compartment : compartments->items) {
        by_precedence.emplace_back(
            0, datum_reference(records, Records::reference_of(&compartment), 0));
      }
      continue;
    }
    const Part21Value* const precedence =
        record != nullptr ? Records::value_of(*record, "DATUM_REFERENCE", 0, 0) : nullptr;
    by_precedence.emplace_back(precedence != nullptr ? precedence->number : 0,
                               datum_reference(records, reference.reference, 0));
  }
  std::stable_sort(by_precedence.begin(), by_precedence.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  std::vector<std::string> words;
  for (auto& [precedence, datum] : by_precedence) words.push_back(std::move(datum));
  return words;
}

std::vector<DatumFeature> read_datums(const AnnotationRecords& records) {
  std::vector<DatumFeature> datums;
  for (const Part21Record& record : records.all()) {
    if (record.is_damaged || !Records::is_a(record, "DATUM")) continue;
    DatumFeature datum;
    datum.letter = letter_of(record);
    std::set<std::size_t> faces = records.applies_to(record.id).faces;
    for (const std::uint64_t feature : records.related_to(record.id)) {
      const Part21Record* const related = records.find(feature);
      const bool by_target = related != nullptr && is_target(*related);
      datum.by_targets = datum.by_targets || by_target;
      for (const std::uint64_t aspect :
           by_target ? with_features(records, feature) : std::vector{feature}) {
        faces.merge(records.applies_to(aspect).faces);
      }
    }
    datum.faces.assign(faces.begin(), faces.end());
    datums.push_back(std::move(datum));
  }
  std::stable_sort(datums.begin(), datums.end(), [](const DatumFeature& a, const DatumFeature& b) {
    return a.letter < b.letter;
  });
  return datums;
}

}  // namespace standpoint
