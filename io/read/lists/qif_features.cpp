#include <algorithm>
#include <unordered_set>
#include <utility>

#include <fmt/format.h>

#include "io/read/lists/qif_features-inl.h"

namespace standpoint {

pugi::xml_node qif_nominals(const QifXml& xml) {
  return xml.child(xml.child(xml.root(), "Features"), "FeatureNominals");
}

void read_qif_nominals(const QifValues& values, const ListOptions& options, QifWanted wanted,
                       ListFaults& faults, QifFeatures& features) {
  const QifXml& xml = values.xml();
  const pugi::xml_node all = qif_nominals(xml);
  const bool tells_nests = std::any_of(all.begin(), all.end(), [&](pugi::xml_node nominal) {
    return qif_role(xml, nominal) == "nest";
  });
  std::unordered_set<std::string> names;
  for (const pugi::xml_node nominal : all.children()) {
    if (nominal.type() != pugi::node_element) continue;
    const bool is_nest = qif_role(xml, nominal) == "nest";
    if (tells_nests && is_nest != (wanted == QifWanted::nests)) continue;
    const std::string_view id = nominal.attribute("id").value();
    const std::string_view kind = xml.name(nominal);
    std::string name = qif_name(values, nominal);
    const std::string where = faults.where(xml.place(nominal));
    const pugi::xml_node definition_id = xml.child(nominal, "FeatureDefinitionId");
    if (!definition_id) {
      values.missing(nominal, "FeatureDefinitionId", "the id of a FeatureDefinition");
      continue;
    }
    const pugi::xml_node definition = values.referred(definition_id, "FeatureDefinition");
    QifNominal read;
    if (definition) {
      read = read_qif_nominal(values, options, nominal, definition);
    } else if (QifValues::is_elsewhere(definition_id)) {
      read.reason = "its definition stands in another document";
    } else {
      continue;
    }
    if (!read.reason.empty()) {
      features.list.passed_over.push_back({name, std::string(kind), read.reason, where});
      features.passed_ids.insert(id);
      continue;
    }
    // QIF tells features apart by their ids; names may be the same.
    while (!names.insert(name).second) name += fmt::format(" ({})", id);
    read.listed.feature.name = name;
    read.listed.where = where;
    features.index_of.emplace(id, features.list.features.size());
    features.list.features.push_back(std::move(read.listed));
  }
}

std::string qif_name(const QifValues& values, pugi::xml_node nominal) {
  const QifXml& xml = values.xml();
  const std::string_view id = nominal.attribute("id").value();
  const pugi::xml_node own = xml.child(nominal, "Name");
  const std::string_view name = trimmed_text(own);
  if (name.empty()) return fmt::format("{} {}", xml.name(nominal), id);
  // A name in parentheses may follow.
  constexpr std::size_t kMost = kLongestName - 20;
  if (!is_plain_text(name, kMost)) values.fault(own, FaultKind::bad_text, describe_text(kMost));
  return std::string(name);
}

}  // namespace standpoint
