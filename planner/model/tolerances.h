#pragma once

namespace standpoint::tolerance {

// Every tolerance of this floor, with its unit, why it has its size, and what a change does. Those
// of geometry/ stand in geometry/tolerances.h.

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

/// Rounding of a share of a whole number of touches, relative: 0.9 of 10 are 9. Far above the
/// rounding of a product, far below one touch of a million.
inline constexpr double kShareRounding = 1e-12;

/// Ratio of the least to the greatest eigenvalue of a stiffness (mean square lever arms, without
/// unit) under which a tie is taken for a hinge: nests 1e-5 of their spread off one line. A tie
/// asks 1/20, and not of all shared nests: of some of them, and of their own spread
/// (`some_off_line`). The others may spread wider, and then all together are off one line by a
/// smaller share. Up to some thousand times as wide, that share stays above this limit: nests a few
/// centimetres apart with others tens of metres away, so no tie of a real hall is lost to it. Far
/// above rounding (1e-14). Larger: weak networks are refused instead of being given their large
/// figures. Smaller: nests rounded to the file's last digit no longer count as in one line, and the
/// figures given are meaningless.
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

/// How far the standing axis of an instrument, as its readings tell it, may lean to count as
/// upright, rad: 1 degree. A stand is levelled far better; more is a blunder, or an instrument set
/// up askew on purpose. Larger: a lean that
/// brings beams out of the elevations goes unseen. Smaller: the readings' errors, and not the
/// level, say how the instrument stands.
inline constexpr double kUprightTilt = 0.017453292519943295;

/// Share of an expanded uncertainty by which two plans must differ to be told apart, without unit:
/// a thousandth is far under what a crew could notice. Larger: margins decide more often; smaller:
/// the last digits of a prediction outvote a beam that grazes.
inline constexpr double kSameUncertainty = 1e-3;

/// Margins that differ by no more, mm, are alike: contract section 4 of the later aims, and of
/// targets that take a feature equally well. Far above rounding within a kilometre, far below what
/// anybody could set up. Larger: a better margin is passed over. Smaller: the last bit decides.
inline constexpr double kSameMargin = 1e-6;

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

/// How far from a corner of its box a body's vertex may be, level, mm, for the body to have a
/// corner there that a tape can be held to. Only shown to people. Larger: rounded corners pass, and
/// the tape is held beside them. Smaller: corners rounded to a file's last digit are passed over.
inline constexpr double kCornerOfBox = 1;

/// Below this an extent is none, mm: rounding of a level row of points.
inline constexpr double kNoExtent = 1e-6;

/// What is nearer to the station than this share of the bundle's length is not looked through:
/// there a perspective would magnify rounding beyond the slack.
inline constexpr double kShadowNearest = 1e-3;

/// A triangle whose height is a smaller share of its longest side has no plane to rely on.
inline constexpr double kThinnestTriangle = 1e-4;

/// Sines of angles this near to each other are left to the angles themselves: far above rounding.
inline constexpr double kSineSlack = 1e-12;

/// Least pivot (of a matrix with unit diagonal) of a pose that is taken as held. Its inverse is
/// then good to 1e-8, far inside `kBoundSlack`; with a weaker one the bound says nothing.
inline constexpr double kLeastPivot = 1e-4;

/// A bound on `worst` may be too high by its rounding, a share of itself far below this. Sets are
/// left out only where the bound is more than this share above what they must beat.
inline constexpr double kBoundSlack = 1e-6;

/// Share of an observation's variance under which its residual counts as held fast: rounding leaves
/// some 1e-12 of it. Larger: weakly checked observations are not tested. Smaller: rounding is.
inline constexpr double kHeldFast = 1e-6;

/// A part of a unit motion that is rounding only, without unit: free motions are told along the
/// axes, and as shifts or turns, as far as that leaves no more. Larger: a motion askew is told as
/// straight. Smaller: the rounding of eigenvectors (1e-10 at the gap of `kHingeRatio`) shows.
inline constexpr double kNoMotion = 1e-6;

/// A screw that shifts everything by so much more than its turn moves anything is a shift.
inline constexpr double kNoTurn = 1e-9;

/// Two rigid motions taken from the computed flexes are one motion when they differ by less than
/// this part of their size. The flexes themselves are good to rounding over the gap above them,
/// 1e-14 / kHingeRatio at the worst; a true relative motion is of the order of one.
inline constexpr double kSameMotion = 1e-4;

/// Above this estimate of the reduced matrix's reciprocal condition nothing can move, and the
/// search for what does is spared. A hinge gives 1e-15 or so; the only effect of another value is
/// time.
inline constexpr double kSurelyHeld = 1e-8;

/// Double decides all but the boundary: its error is some 1e-14, more where the best line is ill
/// determined, but there the ratio is far from 1.
inline constexpr double kUnsureRatio = 1e-9;

/// A grid line nearer than this to a corner of the zone passes through the corner, mm. Lengths that
/// meet in the file may differ by roundings (some 1e-12 mm) once they are mm; a grid should not
/// lose its last line to them. Larger: lines move visibly. Smaller: down to the roundings, the
/// same.
inline constexpr double kGridSnap = 1e-6;

/// A bound counts only where it is under the limit by this share: far above its rounding.
inline constexpr double kSpreadSlack = 1e-6;

/// CBC's bound is a floating sum over an optimal basis with feasibility 1e-7 and some thousand
/// terms of size 1: it may exceed the true bound by less than this. Larger: a bound just above a
/// whole number is not used. Smaller: rounding might pass for proof.
inline constexpr double kProgramBoundError = 1e-3;

/// A value farther from a whole number is no solution.
inline constexpr double kIntegralityError = 1e-5;

/// What a change of units may leave of the spread: as much as `kUnitSlack` is about.
inline constexpr double kUnitMisfit = 0.01;

/// How far, mm, a part may reach through the plane of a face that it stands on, or a face lie above
/// the plane of another that carries too: what machining and the chords of a mesh leave. Larger: a
/// part is put on a face beside a low rim. Smaller: feet that are not quite level carry alone.
inline constexpr double kRestSlack = 0.05;

/// Flat faces whose normals differ by less, rad, carry together, if the slack above allows it.
inline constexpr double kSamePlaneTurn = 1e-3;

/// A direction this near to an axis of its file, rad, is that axis: a turn that people can read.
/// 0.02 mm at 2 m, and above the rounding of single-precision meshes. Larger: the part stands
/// askew.
inline constexpr double kAxisSnap = 1e-5;

/// A mesh encloses no volume when its volume is less than this share of its area times its size,
/// without unit: rounding of a sheet's triangles.
inline constexpr double kVolumeShare = 1e-9;

/// Rounding of a sum of squares, relative. Near its least the sum is flat: without this the last
/// steps would be refused for their rounding.
inline constexpr double kSumRounding = 1e-12;

/// How far, mm, a touch may be off every surface, or a part off its floor, before `check` tells it:
/// far above the chord tolerance of CAD (0.1 mm) and the rounding of drawings, far below a wrong
/// unit or a wrong frame. Larger: small shifts pass unseen. Smaller: coarse meshes are warned of.
inline constexpr double kStray = 1;

/// How near, mm, touches of a surface come to an open or sharp edge of the body: over the usual
/// chamfer or rounded edge of a part, so that the ball rests on the surface and not on the edge.
/// Larger: narrow strips have no touches. Smaller: touches lie on edges that are drawn sharp and
/// made round.
inline constexpr double kOffEdge = 3;

/// How deep, mm, the body may stand in the ball that rests on its surface when touches are raised:
/// what `fit_tolerance` is by default. Larger: touches in corners where no ball rests. Smaller:
/// none on the flats of a coarse mesh of a bore.
inline constexpr double kRestDepth = 0.2;

/// Places on a surface are rounded to this along the line that meets it, mm: a power of two, far
/// above rounding (1e-12), far below a measurement. Larger: visibly off the surface. Smaller: two
/// triangulations of one flat face give places that differ.
inline constexpr double kSurfaceSnap = 0x1p-20;

/// How far beyond the surface, mm, a place is asked for the material beside it: above the chord
/// tolerance, so that it lies on the side that is meant; below half the narrowest slot that is
/// measured. Larger: thin walls are stepped through. Smaller: triangles' bulges decide.
inline constexpr double kPastSurface = 0.25;

}  // namespace standpoint::tolerance
