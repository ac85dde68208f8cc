#pragma once

#include <vector>

#include "standpoint/scene.h"
#include "standpoint/sight.h"

namespace standpoint {

// When two stations are tied by the nests that both see (contract section 4).

/// Whether ties are asked for at all: not in a scene without nests, nor where none need be shared.
[[nodiscard]] bool are_ties_asked(const Scene& scene);

/// Whether a nest with this verdict from a station counts there: where a full target reaches it,
/// with `ties_by_stylus` also where an offset stylus does.
[[nodiscard]] bool counts_for_ties(const Scene& scene, Verdict verdict);

/// How many nests must count from both stations: `shared_nests`, and never fewer than three, which
/// always lie in one line.
[[nodiscard]] int least_shared_nests(const Scene& scene);

/// Whether the places are spread enough to fix a rotation: their greatest distance from their best
/// line is at least 1/20 of their spread. The best line is the least-squares line; the spread is
/// the greatest distance between two of them. False for fewer than three places and for places that
/// all coincide. mm, any frame.
///
/// Exactly 1/20 is enough: the comparison is made in double, again in long double where double
/// cannot tell, and what then rounds to 1/20 counts as 1/20. O(places^2).
[[nodiscard]] bool are_off_one_line(const std::vector<Vec3>& places);

}  // namespace standpoint
