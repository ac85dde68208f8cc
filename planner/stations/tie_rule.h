#pragma once

#include <optional>
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

/// Whether stations that share nests at these places are linked by them: at least
/// `least_shared_nests`, some of which, no fewer, are off one line (`some_off_line`). One nest more
/// never undoes a link.
[[nodiscard]] bool are_enough_to_link(const Scene& scene, const std::vector<Vec3>& places);

/// Nests that two stations share and that would be enough to link them, were they not in one line.
struct NestsInLine {
  NestId first, last;  ///< the two that are farthest apart
  /// How far off the line through these one more nest must stand, level with a point between them,
  /// so that the stations are linked. mm; 0 where all of them are in one place.
  double off_mm = 0;
};

/// Nothing where `shared` (ascending) are too few, or link, or ties are not asked.
[[nodiscard]] std::optional<NestsInLine> nests_in_line(const Scene& scene,
                                                       const std::vector<NestId>& shared);

}  // namespace standpoint
