#pragma once

#include <string_view>

#include <tl/expected.hpp>

#include "io/read/lists/feature_list.h"
#include "io/read/lists/nest_list.h"

namespace standpoint {

/// Whether a list is XML rather than CSV: its first character is "<". O(1) but for white space.
[[nodiscard]] bool is_xml(std::string_view bytes);

/// Reads the nominal features of a QIF 3.0 document (ISO 23952:2020; the schemas that are published
/// with it), their tolerances and which of them are datums; docs/lists.md says how each is taken.
/// The document states its units itself (metres where it is silent), so `options.units` is not
/// asked for. What is sound but cannot be listed is in `passed_over`. Every fault is told at once,
/// `where` = "FILE:LINE:COLUMN" of the element. Neither external entities nor document types are
/// read; size and depth are bound. Gives the list or every fault. Pure. O(n log n) for n bytes.
[[nodiscard]] tl::expected<FeatureList, Faults> parse_qif_features(std::string_view bytes,
                                                                   const ListOptions& options);

/// Reads the point features of a QIF 3.0 document as nests, likewise.
[[nodiscard]] tl::expected<NestList, Faults> parse_qif_nests(std::string_view bytes,
                                                             const ListOptions& options);

}  // namespace standpoint
