#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace standpoint {

/// What sort of thing is wrong. Each kind has one word (`fault_word`), so that programs can tell
/// faults apart without reading prose, and one way to say what is expected (`fault_expected`).
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

/// One thing wrong with the input. People read it as "where: got value, expected allowed; nearest:
/// nearest" (`fault_words`); docs/messages.md says how to word one.
struct Fault {
  /// JSON pointer ("/features/3/normal"), option ("--feature"), or a file's path, where more than
  /// one file is read with the place in it ("plan.json#/units", "nests.csv:4").
  std::string where;
  /// What stands there: JSON text, shortened, so a text is in quotes; or plain words where it is no
  /// value ("a folder"). Empty where nothing stands, though something must.
  std::string value;
  std::string allowed;  ///< what is expected instead: goes on after "expected"
  FaultKind kind = FaultKind::other;
  std::string nearest;  ///< the name that was most likely meant, as it is; empty for none
};

using Faults = std::vector<Fault>;

/// The kind's stable word, such as "unknown-key". O(1).
[[nodiscard]] std::string_view fault_word(FaultKind kind);

/// What the kind expects, a format string of fmt whose arguments `FaultSink::add` fills in. O(1).
[[nodiscard]] std::string_view fault_expected(FaultKind kind);

/// What people read as got where the value itself does not tell what is wrong: "an unknown key";
/// empty where it does. O(1).
[[nodiscard]] std::string_view fault_got(FaultKind kind);

}  // namespace standpoint
