#include "planner/reach/beam.h"

#include <limits>

#include "geometry/tolerances.h"

namespace standpoint {

RoundCone beam_between(const Instrument& instrument, const Vec3& centre, const Vec3& end) {
  const double at_end =
      instrument.beam_diameter + instrument.beam_growth_rad * (end - centre).norm();
  return {centre, end, instrument.beam_diameter / 2, at_end / 2};
}

std::optional<Blocker> first_blocker(const Tree& tree, const RoundCone& beam, double margin) {
  // A beam inside the error bound of clear counts as blocked: look a little farther than asked.
  const double below = margin + tolerance::kBlockerLook;
  std::optional<Blocker> first;
  double first_at = std::numeric_limits<double>::infinity();
  double least = std::numeric_limits<double>::infinity();
  tree.for_each_within(beam, below, [&](const Contact& contact) {
    least = std::min(least, contact.nearest.margin);
    const double entry =
        first_entry(beam, tree.corners(contact.body, contact.triangle), contact.nearest, below);
    const bool is_nearer =
        entry < first_at ||
        (entry == first_at && (contact.body < first->body || (contact.body == first->body &&
                                                              contact.triangle < first->triangle)));
    if (!is_nearer) return;
    first_at = entry;
    first = Blocker{contact.body, contact.triangle, entry, 0, contact.nearest.at};
  });
  if (first) first->margin = least;
  return first;
}

}  // namespace standpoint
