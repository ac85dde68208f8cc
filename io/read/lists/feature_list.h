#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include <tl/expected.hpp>

#include "io/read/lists/list_table.h"
#include "io/read/text/fault.h"
#include "planner/part/found_feature.h"
#include "standpoint/scene.h"

namespace standpoint {

/// One feature of a list.
struct ListedFeature {
  FoundFeature feature;          ///< in the list's frame, mm and rad, unit vectors
  bool required = true;          ///< as in a scene
  bool is_upward = false;        ///< the list states no normal: +Z of the list's frame was taken
  bool has_usual_depth = false;  ///< a circle of a QIF document: half the diameter was taken
  std::string where;             ///< of the row it begins on, for faults: "FILE:LINE:COLUMN"
};

/// Something of a document that is sound but cannot be listed: a free-form surface, half a round.
struct PassedOver {
  std::string name;    ///< as the document has it
  std::string what;    ///< its kind, in the document's word
  std::string reason;  ///< why, in plain words
  std::string where;   ///< "FILE:LINE:COLUMN"
};

/// A list of features, in the order of the file, with at least one.
struct FeatureList {
  std::vector<ListedFeature> features;
  std::vector<PassedOver> passed_over;  ///< of a QIF document: features and tolerances
  std::size_t tolerances = 0;           ///< of a QIF document: how many zones were read
};

/// Reads a list of features (contract section 8, docs/lists.md). A text that begins with "<" is
/// read as a QIF 3.0 document (io/read/lists/qif_list.h), all else as CSV: what separates the
/// columns, the decimal sign and the units are found out as that page says. Each value is bound as
/// in a scene. Every fault is told at once, in the order of the file, `where` = "FILE:LINE:COLUMN"
/// (column in characters, where the cell begins), or "FILE" for the whole file.
/// Gives the list or every fault; never both, never neither. Pure. O(n log n) for n bytes. Several
/// threads may read at once.
[[nodiscard]] tl::expected<FeatureList, Faults> parse_feature_list(std::string_view bytes,
                                                                   const ListOptions& options);

/// The list's features as a scene takes them, in the same order and number. O(n).
[[nodiscard]] std::vector<Feature> scene_features(const FeatureList& list);

}  // namespace standpoint
