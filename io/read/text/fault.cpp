#include "io/read/text/fault.h"

#include <array>
#include <cassert>
#include <cstddef>

namespace standpoint {
namespace {

struct Words {
  FaultKind kind;
  std::string_view word;
  std::string_view expected;
  std::string_view got = {};
};

constexpr std::array kWords{
    Words{FaultKind::other, "other", "{}"},
    Words{FaultKind::file_unreadable, "file-unreadable", "{} that can be read"},
    Words{FaultKind::file_too_large, "file-too-large", "{} of at most {} MiB", "a larger file"},
    Words{FaultKind::syntax, "syntax", "valid JSON; at line {}, column {}: {}"},
    Words{FaultKind::too_deep, "too-deep", "at most {} levels of lists and objects",
          "one more level"},
    Words{FaultKind::list_too_long, "list-too-long", "a list of at most {} entries"},
    Words{FaultKind::too_many_values, "too-many-values", "at most {} values in the whole file",
          "one more value"},
    Words{FaultKind::more_faults, "more-faults", "{} more faults are not listed"},
    Words{FaultKind::duplicate_key, "duplicate-key", "each key once in its object",
          "the same key twice"},
    Words{FaultKind::unknown_key, "unknown-key", "one of these keys: {}", "an unknown key"},
    Words{FaultKind::missing, "missing", "{}"},
    Words{FaultKind::wrong_type, "wrong-type", "{}"},
    Words{FaultKind::not_finite, "not-finite", "a finite number that a double can hold"},
    Words{FaultKind::out_of_range, "out-of-range", "{}"},
    Words{FaultKind::not_whole, "not-whole", "{}, without a fraction"},
    Words{FaultKind::unknown_choice, "unknown-choice", "{}"},
    Words{FaultKind::bad_text, "bad-text", "{}"},
    Words{FaultKind::too_few_entries, "too-few-entries", "{}; this one has only {}"},
    Words{FaultKind::too_many_entries, "too-many-entries", "{}; this one has {}"},
    Words{FaultKind::low_not_below_high, "low-not-below-high",
          "two numbers, the first less than the second"},
    Words{FaultKind::zero_direction, "zero-direction",
          "a direction with a length other than zero (it need not be 1)"},
    Words{FaultKind::duplicate_name, "duplicate-name",
          "a name of its own; {} has this one already"},
    Words{FaultKind::duplicate_entry, "duplicate-entry", "each entry once; entry {} is the same"},
    Words{FaultKind::unknown_name, "unknown-name", "the name of {}"},
    Words{FaultKind::ambiguous_name, "ambiguous-name",
          "a name that only one thing has; a nest and a feature share it"},
    Words{FaultKind::one_of_keys, "one-of-keys", "exactly one of these keys: {}"},
    Words{FaultKind::include_cycle, "include-cycle",
          "a scene file that does not include the one it is named in; this one is {}"},
    Words{FaultKind::polygon_repeats_corner, "polygon-repeats-corner",
          "each corner once (a polygon closes by itself); corner {} is the same"},
    Words{FaultKind::polygon_flat, "polygon-flat",
          "a polygon with an area; all corners of this one are in one line"},
    Words{FaultKind::polygon_crosses, "polygon-crosses",
          "a simple polygon; this one crosses or touches itself"},
    Words{FaultKind::grid_too_fine, "grid-too-fine",
          "a spacing that gives at most {} grid points over the polygon's bounding box; this one "
          "gives {}"},
    Words{FaultKind::too_many_candidates, "too-many-candidates",
          "a spacing that keeps all grids together below {} places; up to here they make {}"},
    Words{FaultKind::points_in_line, "points-in-line",
          "points that fix a plane; these are in one line"},
    Words{FaultKind::too_many_touches_asked, "too-many-touches-asked",
          "at most the number of touches, {}"},
    Words{FaultKind::stylus_too_short, "stylus-too-short", "more than the tip's radius, {}"},
    Words{FaultKind::taper_too_short, "taper-too-short",
          "more than {} (the shank's radius less the tip's), or the shank would widen by more "
          "than its length{}"},
    Words{FaultKind::taper_too_long, "taper-too-long", "at most {}, where the shank ends{}"},
    Words{FaultKind::mesh_unreadable, "mesh-unreadable", "a mesh or CAD file that can be read; {}"},
    Words{FaultKind::mesh_not_finite, "mesh-not-finite",
          "a mesh with finite coordinates; {} of its vertices have none"},
    Words{FaultKind::parallel_direction, "parallel-direction",
          "a direction across {}; this one runs along it"},
    Words{FaultKind::cone_past_tip, "cone-past-tip",
          "a length of at most {}, where the cone has come to its tip"},
    Words{FaultKind::slot_not_long, "slot-not-long",
          "a length over both round ends of more than the width, {}"},
    Words{FaultKind::no_touches, "no-touches", "{}"},
    Words{FaultKind::too_many_touches, "too-many-touches",
          "a spacing that gives at most {} touches on what is selected"},
    Words{FaultKind::alignment_free, "alignment-free",
          "features that hold the part; these leave it free to {}; {}"},
    Words{FaultKind::alignment_not_chosen, "alignment-not-chosen",
          "this key only where `choose` says how many"},
};

constexpr bool in_order() {
  for (std::size_t i = 0; i < kWords.size(); ++i)
    if (kWords[i].kind != static_cast<FaultKind>(i)) return false;
  return kWords.size() == static_cast<std::size_t>(FaultKind::count_);
}
static_assert(in_order(), "one entry for each kind, in the order of the enumeration");

const Words& words_of(FaultKind kind) {
  const auto index = static_cast<std::size_t>(kind);
  assert(index < kWords.size());
  return kWords[index];
}

}  // namespace

std::string_view fault_word(FaultKind kind) {
  return words_of(kind).word;
}

std::string_view fault_expected(FaultKind kind) {
  return words_of(kind).expected;
}

std::string_view fault_got(FaultKind kind) {
  return words_of(kind).got;
}

}  // namespace standpoint
