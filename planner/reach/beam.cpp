#include "planner/reach/beam.h"

#include <algorithm>
#include <limits>
#include <utility>

#include "geometry/tree/tree.h"
#include "planner/model/tolerances.h"

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
  double least = std::numeric_limits<double>::infinity();
  tree.for_each_within(beam, below, [&](const Contact& contact) {
    least = std::min(least, contact.nearest.margin);
    const auto corners = tree.corners(contact.body, contact.triangle);
    const double entry = first_entry(beam, corners, contact.nearest, below);
    const bool is_nearer =
        !first || entry < first->distance ||
        (entry == first->distance &&
         std::pair(contact.body, contact.triangle) < std::pair(first->body, first->triangle));
    if (!is_nearer) return;
    const Vec3 on_axis = beam.start + entry * (beam.end - beam.start).normalized();
    const Vec3 at = nearest_on_triangle(RoundCone::ball(on_axis, 0), corners).at;
    first = Blocker{contact.body, contact.triangle, entry, 0, at};
  });
  if (first) first->margin = least;
  return first;
}

}  // namespace standpoint
