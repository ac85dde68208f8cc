#pragma once

namespace standpoint::tolerance {

// Every tolerance of this floor, with its unit, why it has its size, and what a change does. Those
// of planner/ stand in planner/model/tolerances.h, those of io/ in io/words/tolerances.h.

/// Error of a computed margin, mm, for coordinates up to `reach` mm from the origin: 64 units in
/// the last place of the largest coordinate covers the some forty roundings of
/// `nearest_on_triangle` (docs/beam.md counts them). Larger: beams that graze by nanometres are
/// called blocked. Smaller: they might be called clear wrongly.
[[nodiscard]] inline double margin_error(double reach) {
  return 64 * 0x1p-53 * reach;
}

/// Share of lengths, or of their squares, by which a point must be out of reach of the least margin
/// so far not to be offered: far above the roundings of both, some forty units in the last place.
/// Larger: more points are looked at for nothing. Smaller: the last bit of a margin might change.
inline constexpr double kOutOfReach = 1e-12;

/// Error of a height over a triangle's plane times the normal's length, as a share of the product
/// of both edges and of the distance from the corner: twice the 32 units in the last place that
/// docs/beam.md names. Larger: more triangles are measured. Smaller: one in a beam might pass.
inline constexpr double kPlaneError = 64 * 0x1p-53;

/// Error of the culling in float, mm, for coordinates up to `reach` mm from the tree's origin:
/// docs/beam.md, section 4, adds up 58 units in the last place. Larger: more triangles are looked
/// at in double. Smaller: a triangle in the beam might be left out.
[[nodiscard]] inline double culling_slack(double reach) {
  return 64 * 0x1p-24 * reach;
}

/// Bisection width of `first_entry`, mm. Only shown to people.
inline constexpr double kEntryWidth = 1e-6;

/// Bisection width of how deep a triangle stands in a cylinder, mm. Only shown to people; whether
/// it stands deeper than allowed is decided without it.
inline constexpr double kDepthWidth = 1e-6;

/// Height, mm, under which a triangle with coordinates up to `reach` mm has no area: 4 units in the
/// last place, about what rounding three points of one line to doubles lifts the middle one. Only
/// counts defects. Larger: sound slivers are called degenerate. Smaller: degenerate ones are
/// missed.
[[nodiscard]] inline double flat_height(double reach) {
  return 4 * 0x1p-52 * reach;
}

}  // namespace standpoint::tolerance
