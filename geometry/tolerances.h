#pragma once

#include <cmath>

namespace standpoint::tolerance {

// Every tolerance of the program, with its unit, why it has its size, and what a change does.

/// Error of a computed margin, mm, for coordinates up to `reach` mm from the origin: 64 units in
/// the last place of the largest coordinate covers the some forty roundings of
/// `nearest_on_triangle` (docs/beam.md counts them). Larger: beams that graze by nanometres are
/// called blocked. Smaller: they might be called clear wrongly.
[[nodiscard]] inline double margin_error(double reach) {
  return 64 * 0x1p-53 * reach;
}

/// Error of the culling in float, mm, for coordinates up to `reach` mm from the tree's origin:
/// docs/beam.md, section 4, adds up 58 units in the last place. Larger: more triangles are looked
/// at in double. Smaller: a triangle in the beam might be left out.
[[nodiscard]] inline double culling_slack(double reach) {
  return 64 * 0x1p-24 * reach;
}

/// Bisection width of `first_entry`, mm. Only shown to people.
inline constexpr double kEntryWidth = 1e-6;

/// How much nearer than allowed a body must not come for a blocked beam to be explained by it, mm:
/// above `margin_error` for any scene within a kilometre. Only shown to people.
inline constexpr double kBlockerLook = 1e-6;

/// How far from a beam's axis a body still counts as met by the axis itself, mm. Only shown to
/// people (stopped, or only clipped).
inline constexpr double kOnAxis = 1e-6;

/// Least eigenvalue of an element's normal matrix as a share of the greatest, without unit: below
/// it the touches do not fix the element. Larger: spread-out but flat patterns are refused;
/// smaller: touches on a line pass as a plane by their rounding.
inline constexpr double kElementRank = 1e-9;

/// Ratio of the least to the greatest eigenvalue of a stiffness (mean square lever arms, without
/// unit) under which a tie is taken for a hinge: nests 1e-5 of their spread off one line. Far below
/// the 1/20 that `are_off_one_line` asks of a tie, so that a tie is never lost to it even at the
/// end of a chain of a hundred stations; far above rounding (1e-14). Larger: weak networks are
/// refused instead of being given their large figures. Smaller: nests rounded to the file's last
/// digit no longer count as in one line, and the figures given are meaningless.
inline constexpr double kHingeRatio = 1e-10;

/// The best that the network takes an observation to be, mm, in any direction: a specification may
/// state no error at all along or across the beam, and weights must stay finite. Larger: shows in
/// the last digits of honest instruments. Smaller: weights spread past what double can add up.
inline constexpr double kLeastSigma = 1e-6;

/// Movement of the points under which a rigid fit is done, mm: a thousandth of what the best
/// instrument resolves, and above the rounding of places a few metres about their centroid (1e-12).
/// Larger: shows where the instrument stands far off its nests. Smaller: only rounding is iterated.
inline constexpr double kFitStep = 1e-9;

/// How far the scale of a measured set-up may be off a ratio of two units, relative, to be taken
/// for a wrong unit: no blunder of millimetres scales nests metres apart by so much, and no two
/// ratios are so near. Larger: ratios run together. Smaller: rounded coordinates hide a wrong unit.
inline constexpr double kUnitSlack = 0.02;

/// Share of an expanded uncertainty by which two plans must differ to be told apart, without unit:
/// a thousandth is far under what a crew could notice. Larger: margins decide more often; smaller:
/// the last digits of a prediction outvote a beam that grazes.
inline constexpr double kSameUncertainty = 1e-3;

/// Slack, mm, in deciding a whole patch of directions at once: above `margin_error` for any scene
/// within a kilometre, so that each single direction would be decided alike. Larger: patches at
/// the edge are looked at one by one. Smaller: one might be decided otherwise than by itself.
inline constexpr double kWholePatchSlack = 1e-6;

/// How far, mm, below a margin that is known to be had the search for the largest one begins. Far
/// above the number of directions (25 000) times twice `margin_error`, so that a search begun there
/// ends where one begun at nothing does: directions that the error bound cannot tell apart may be
/// taken in another order only near the beginning, and no ladder of them leads up so far. Larger:
/// more directions are measured in full. Smaller: of two that are alike another might be told.
inline constexpr double kMarginToSpare = 0.01;

/// How much nearer than allowed a body may come in the question of fit, mm for coordinates up to
/// `reach` mm. A ball that rests on a face touches it exactly, and must not miss by the rounding of
/// its own place (64 + 64 units in the last place: of the place and of the distance). Larger: too
/// lenient by what nobody can measure. Smaller: with a `fit_tolerance` of 0 rounding decides.
[[nodiscard]] inline double fit_error(double reach) {
  return 128 * 0x1p-53 * reach;
}

/// Height, mm, under which a triangle with coordinates up to `reach` mm has no area: 4 units in the
/// last place, about what rounding three points of one line to doubles lifts the middle one. Only
/// counts defects. Larger: sound slivers are called degenerate. Smaller: degenerate ones are
/// missed.
[[nodiscard]] inline double flat_height(double reach) {
  return 4 * 0x1p-52 * reach;
}

/// How far from a corner of its box a body's vertex may be, level, mm, for the body to have a
/// corner there that a tape can be held to. Only shown to people. Larger: rounded corners pass, and
/// the tape is held beside them. Smaller: corners rounded to a file's last digit are passed over.
inline constexpr double kCornerOfBox = 1;

}  // namespace standpoint::tolerance
