#pragma once

#include <string>
#include <vector>

/// \file
/// What is wrong with a scene file, as values.

namespace standpoint {

/// What sort of thing is wrong, so that a program can tell faults apart without reading prose.
enum class FaultKind {
  other,  ///< told by another part than the scene reader
  // the file and its text
  file_unreadable,  ///< the scene file is not there or cannot be read
  file_too_large,   ///< the file is larger than the program reads
  syntax,           ///< the text is no valid JSON
  too_deep,         ///< lists and objects inside one another deeper than allowed
  list_too_long,    ///< a list with more entries than allowed
  too_many_values,  ///< more values in the whole file than allowed
  more_faults,      ///< no fault of its own: counts the faults that are not listed
  // any value
  duplicate_key,     ///< an object has the same key twice
  unknown_key,       ///< a key that its object does not have
  missing,           ///< nothing stands where something must
  wrong_type,        ///< a text where a number is expected, and the like
  not_finite,        ///< a number too large for a double
  out_of_range,      ///< a number outside the range allowed
  not_whole,         ///< a number with a fraction where a whole one is expected
  unknown_choice,    ///< none of the words that are allowed here
  bad_text,          ///< an empty or too long text, or one with characters that are not allowed
  too_few_entries,   ///< a list with fewer entries than needed
  too_many_entries,  ///< a list with more entries than make sense here
  // several values together
  low_not_below_high,  ///< a range whose first number is not below its second
  zero_direction,      ///< a direction without length
  duplicate_name,      ///< two things of one sort have the same name
  duplicate_entry,     ///< a list names the same thing twice
  unknown_name,        ///< a name that nothing in the scene has
  ambiguous_name,      ///< a name that a nest and a feature share
  one_of_keys,         ///< none, or more than one, of keys that stand for each other
  include_cycle,       ///< a scene file that includes itself, if by way of others
  // polygons and grids
  polygon_repeats_corner,  ///< a polygon has the same corner twice
  polygon_flat,            ///< all corners of a polygon are in one line
  polygon_crosses,         ///< a polygon crosses or touches itself
  grid_too_fine,           ///< a spacing that gives too many points in one polygon
  too_many_candidates,     ///< spacings that give too many places for stations together
  // features, targets, bodies
  points_in_line,          ///< a plane's points are in one line
  too_many_touches_asked,  ///< more touches asked than the feature has
  stylus_too_short,        ///< a stylus no longer than its tip's radius
  taper_too_short,         ///< a shank that would widen by more than its length
  taper_too_long,          ///< a taper longer than the shank
  mesh_unreadable,         ///< a mesh or CAD file that cannot be read
  mesh_not_finite,         ///< a mesh with vertices that are not finite
  parallel_direction,      ///< a direction along an axis to which it must be square
  cone_past_tip,           ///< a cone that is longer than from its wide end to its tip
  slot_not_long,           ///< a slot that is not longer than wide
  no_touches,              ///< a surface with no place on which a ball can rest
  too_many_touches,        ///< a spacing that gives too many touches of a surface
  // the part's frame
  alignment_free,        ///< features whose touches leave the part free to move
  alignment_not_chosen,  ///< says what to choose from where nothing is to be chosen
  count_                 ///< how many kinds there are; not a kind
};

/// One thing wrong with the input. People read it as "where: got value, expected allowed; nearest:
/// nearest". Texts are UTF-8 and may hold what the file held: escape them for where you show them.
struct Fault {
  /// JSON pointer ("/features/3/normal"), option ("--feature"), or a file's path, where more than
  /// one file is read with the place in it ("plan.json#/units", "nests.csv:4").
  std::string where;
  /// What stands there: JSON text, shortened, so a text is in quotes; or plain words where it is no
  /// value ("a folder"). Empty where nothing stands, though something must.
  std::string value;
  std::string allowed;                ///< what is expected instead: goes on after "expected"
  FaultKind kind = FaultKind::other;  ///< what sort of thing is wrong
  std::string nearest;  ///< the name that was most likely meant, as it is; empty for none
};

/// All that is wrong with the input, in the order of the file.
using Faults = std::vector<Fault>;

}  // namespace standpoint
