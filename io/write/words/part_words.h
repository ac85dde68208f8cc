#pragma once

#include <iosfwd>
#include <string>
#include <vector>

#include "io/use/standing_place.h"

namespace standpoint {

/// What does not fit in a set-up by nests and part, a paragraph each: "Readings 7 to 12 fit with
/// 6.350 mm instead of 19.050 mm: ball-38 was called out, ball-13 was used (...)". Names as the
/// scene has them. Says so where nothing stands out.
[[nodiscard]] std::vector<std::string> finding_sentences(const Scene& scene,
                                                         const RealStation& station,
                                                         const PartStation& part);

/// What moved between the two readings of nests, in sentences.
[[nodiscard]] std::vector<std::string> movement_sentences(const Scene& scene,
                                                          const Movement& movement);

/// Prints what each reading of a set-up by nests and part leaves, as a table.
void print_part_rows(const Scene& scene, const PartStation& part, std::ostream& out);

}  // namespace standpoint
