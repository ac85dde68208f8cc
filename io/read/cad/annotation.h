#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <string_view>

#include "planner/part/annotation.h"

namespace standpoint {

/// Reads geometric tolerances, datums and toleranced dimensions from the text of a STEP file, as
/// AP242 has them in a form for programs (docs/annotation.md). Other editions have hardly any, but
/// what they have in the same form is read too. What is only drawn is not read.
///
/// `face_numbers`: by the number (#) of a face's entity, that of the face in the file. Lengths come
/// out in mm by the units that the file states for each.
///
/// Every geometric tolerance of the text is either in `tolerances` or, with the reason, in
/// `not_read`: nothing is left out in silence. Any text is taken. O(n log n) in its length. Throws
/// std::bad_alloc alone. Safe from several threads.
[[nodiscard]] Annotation read_annotation(std::string_view step_text,
                                         const std::map<std::uint64_t, std::size_t>& face_numbers);

/// Adds what was read from a file that another refers to, by its name, to what was read from that
/// other. Each is marked with the file, since numbers of entities are a file's own. Datums stay in
/// the order of their letters. O(n log n). Safe from several threads.
void add_annotation_of(const std::string& part_file, Annotation of_part, Annotation& all);

}  // namespace standpoint
