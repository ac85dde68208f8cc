#pragma once

#include <iosfwd>
#include <string>
#include <vector>

#include "io/use/standing_place.h"

namespace standpoint {

/// What a measured set-up is worth, in sentences: whether it fits, the suspect nest, the tilt, the
/// uncertainty of the pose. Names as the scene has them, like words.h.
[[nodiscard]] std::vector<std::string> set_up_sentences(const Scene& scene,
                                                        const RealStation& station);

/// The same of all that --measured told: of nests alone, or of nests and part; then what moved.
/// Precondition: `place.measured`.
[[nodiscard]] std::vector<std::string> set_up_sentences(const Scene& scene,
                                                        const StandingPlace& place);

/// How the real place differs from the planned one, in one sentence.
[[nodiscard]] std::string planned_sentence(const Scene& scene, const RealStation& station,
                                           const PlannedPlace& planned);

/// Prints where the instrument really stands, before what is seen from there; nothing where it was
/// not measured. Ends with an empty line.
void print_measured(const Scene& scene, const StandingPlace& place, std::ostream& out);

}  // namespace standpoint
