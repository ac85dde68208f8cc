#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace standpoint {

/// What sort of thing is wrong. Each kind has one word (`fault_word`) and one sentence
/// (`fault_sentence`), so that programs can tell faults apart without reading prose.
enum class FaultKind {
  other,  ///< told by another part than the scene reader
  // the file and its text
  file_unreadable,
  file_too_large,
  syntax,
  too_deep,
  list_too_long,
  too_many_values,
  more_faults,
  // any value
  duplicate_key,
  unknown_key,
  missing,
  wrong_type,
  not_finite,
  out_of_range,
  not_whole,
  unknown_choice,
  bad_text,
  too_few_entries,
  too_many_entries,
  // several values together
  low_not_below_high,
  zero_direction,
  duplicate_name,
  duplicate_entry,
  unknown_name,
  ambiguous_name,
  // polygons and grids
  polygon_repeats_corner,
  polygon_flat,
  polygon_crosses,
  grid_too_fine,
  too_many_candidates,
  // features, targets, bodies
  points_in_line,
  too_many_touches_asked,
  stylus_too_short,
  taper_too_short,
  taper_too_long,
  mesh_unreadable,
  mesh_not_finite,
  count_  ///< how many kinds there are; not a kind
};

/// One thing wrong with the input.
struct Fault {
  std::string where;    ///< JSON pointer ("/features/3/normal"), or a file's path
  std::string value;    ///< what stands there, as JSON text, shortened; empty where nothing does
  std::string allowed;  ///< what is allowed, or what is wrong, in plain words
  FaultKind kind = FaultKind::other;
};

using Faults = std::vector<Fault>;

/// The kind's stable word, such as "unknown-key". O(1).
[[nodiscard]] std::string_view fault_word(FaultKind kind);

/// The kind's sentence, a format string of fmt whose arguments `FaultSink::add` fills in. O(1).
[[nodiscard]] std::string_view fault_sentence(FaultKind kind);

}  // namespace standpoint
