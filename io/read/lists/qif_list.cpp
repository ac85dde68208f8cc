#include "io/read/lists/qif_list.h"

#include <utility>

#include <fmt/format.h>

#include "io/read/lists/qif_features-inl.h"
#include "io/words/units.h"

namespace standpoint {
namespace {

/// All features and tolerances of a document, or its faults in `faults`.
FeatureList read_document(std::string_view bytes, const ListOptions& options, QifWanted wanted,
                          ListFaults& faults) {
  const QifXml xml(bytes, faults);
  QifFeatures features;
  if (!xml.root()) return {};
  const QifValues values(xml, faults);
  const pugi::xml_node nominals = qif_nominals(xml);
  if (!nominals.first_child()) {
    faults.add(xml.place(nominals ? nominals : xml.root()), "", FaultKind::missing,
               "features in Features/FeatureNominals");
    return {};
  }
  read_qif_nominals(values, options, wanted, faults, features);
  if (wanted == QifWanted::features) read_qif_tolerances(values, faults, features);
  if (faults.empty() && features.list.features.empty()) {
    faults.add(xml.place(nominals),
               fmt::format("only {} of other kinds", features.list.passed_over.size()),
               FaultKind::too_few_entries, "a feature that can be listed");
  }
  return std::move(features.list);
}

}  // namespace

bool is_xml(std::string_view bytes) {
  constexpr std::string_view kMark = "\xEF\xBB\xBF";
  if (bytes.substr(0, kMark.size()) == kMark) bytes.remove_prefix(kMark.size());
  const std::size_t first = bytes.find_first_not_of(" \t\r\n");
  return first != bytes.npos && bytes[first] == '<';
}

tl::expected<FeatureList, Faults> parse_qif_features(std::string_view bytes,
                                                     const ListOptions& options) {
  ListFaults faults(options.file);
  FeatureList list = read_document(bytes, options, QifWanted::features, faults);
  if (!faults.empty()) return tl::unexpected(faults.take());
  return list;
}

tl::expected<NestList, Faults> parse_qif_nests(std::string_view bytes, const ListOptions& options) {
  ListFaults faults(options.file);
  const FeatureList list = read_document(bytes, options, QifWanted::nests, faults);
  if (!faults.empty()) return tl::unexpected(faults.take());
  NestList nests;
  for (const ListedFeature& listed : list.features) {
    const FoundFeature& feature = listed.feature;
    if (feature.kind != FoundKind::point) continue;
    const Nest nest{feature.name, feature.centre, feature.axis, rad_from_deg(kUsualSeatDeg)};
    nests.nests.push_back({nest, listed.is_upward, true, listed.where});
  }
  if (!nests.nests.empty()) return nests;
  return tl::unexpected(Faults{{options.file, fmt::format("{} features", list.features.size()),
                                "point features: the nests, each with its place and its normal",
                                FaultKind::too_few_entries, ""}});
}

}  // namespace standpoint
