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

/// Bisection width of `first_entry`, mm. Only shown to people.
inline constexpr double kEntryWidth = 1e-6;

/// How much nearer than allowed a body must not come for a blocked beam to be explained by it, mm:
/// above `margin_error` for any scene within a kilometre. Only shown to people.
inline constexpr double kBlockerLook = 1e-6;

/// Least eigenvalue of an element's normal matrix as a share of the greatest, without unit: below
/// it the touches do not fix the element. Larger: spread-out but flat patterns are refused; smaller:
/// touches on a line pass as a plane by their rounding.
inline constexpr double kElementRank = 1e-9;

/// Ratio of the least to the greatest eigenvalue of a stiffness (mean square lever arms, without
/// unit) under which a tie is taken for a hinge: nests 1e-5 of their spread off one line. Far below
/// the 1/20 that `are_off_one_line` asks of a tie, so that a tie is never lost to it even at the end
/// of a chain of a hundred stations; far above rounding (1e-14). Larger: weak networks are refused
/// instead of being given their large figures. Smaller: nests rounded to the file's last digit no
/// longer count as in one line, and the figures given are meaningless.
inline constexpr double kHingeRatio = 1e-10;

/// The best that the network takes an observation to be, mm, in any direction: a specification may
/// state no error at all along or across the beam, and weights must stay finite. Larger: shows in
/// the last digits of honest instruments. Smaller: weights spread past what double can add up.
inline constexpr double kLeastSigma = 1e-6;

/// Share of an expanded uncertainty by which two plans must differ to be told apart, without unit:
/// a thousandth is far under what a crew could notice. Larger: margins decide more often; smaller:
/// the last digits of a prediction outvote a beam that grazes.
inline constexpr double kSameUncertainty = 1e-3;

}  // namespace standpoint::tolerance
