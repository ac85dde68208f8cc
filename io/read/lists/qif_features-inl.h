#pragma once

#include <string>
#include <string_view>
#include <unordered_map>
#include <unordered_set>

#include "io/read/lists/feature_list.h"
#include "io/read/lists/qif_values-inl.h"

// A piece of the files of this folder that read QIF documents: features, then what is said of them.

namespace standpoint {

/// The features of a document while it is being read.
struct QifFeatures {
  FeatureList list;
  /// Each feature's place in the list, by the id of its nominal.
  std::unordered_map<std::string_view, std::size_t> index_of;
  std::unordered_set<std::string_view> passed_ids;  ///< nominals that were passed over
};

/// One nominal, read. Where it cannot be listed, `reason` says why in plain words.
struct QifNominal {
  ListedFeature listed;  ///< without its name and place
  std::string reason;
};

/// Reads a feature nominal by its kind. Faults are told.
[[nodiscard]] QifNominal read_qif_nominal(const QifValues& values, const ListOptions& options,
                                          pugi::xml_node nominal, pugi::xml_node definition);

/// What a plan that this program wrote says of a nominal beside its QIF kind: "nest", "hole",
/// "cylinder". Empty in other documents.
[[nodiscard]] std::string_view qif_role(const QifXml& xml, pugi::xml_node nominal);

/// What a document is read for. A plan that this program wrote says which of its points are nests.
enum class QifWanted { features, nests };

/// Reads every feature nominal that is wanted, in the order of the document.
void read_qif_nominals(const QifValues& values, const ListOptions& options, QifWanted wanted,
                       ListFaults& faults, QifFeatures& features);

/// Gives features their tolerances from the characteristics, and marks those that are datums.
/// After `read_qif_nominals`.
void read_qif_tolerances(const QifValues& values, ListFaults& faults, QifFeatures& features);

/// "FeatureNominals" of the document; empty where it has none.
[[nodiscard]] pugi::xml_node qif_nominals(const QifXml& xml);

/// What a nominal is called: its name, else its kind and id. Faults are told.
[[nodiscard]] std::string qif_name(const QifValues& values, pugi::xml_node nominal);

}  // namespace standpoint
