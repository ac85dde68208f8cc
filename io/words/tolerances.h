#pragma once

namespace standpoint::tolerance {

// Every tolerance of this floor, with its unit, why it has its size, and what a change does. Those
// of planner/ stand in planner/model/tolerances.h.

/// Points count as one line when none is farther from their longest connection than this share of
/// its length: what is left of the plane's tilt then is rounding.
inline constexpr double kLineShare = 1e-6;

/// A direction whose sine to an axis is no more than this runs along it, without unit (rad): made
/// square to the axis, little more than its rounding would be left. Larger: directions that were
/// meant are refused.
inline constexpr double kSquareDirection = 1e-6;

/// How far a cone may go on past its tip, relative to its length: rounding of a file's figures.
inline constexpr double kConeTip = 1e-6;

/// Lengths of a CAD file's annotation are rounded to this, mm: what a file gains by changing
/// between inch and mm (10.999999999998 for 11). Larger: fine tolerances change. Smaller: the noise
/// shows.
inline constexpr double kAnnotationStep = 1e-6;

/// How far a drawn axis may be off the axis of a round face that it belongs to: a share of the
/// face's radius, and the sine of the angle between them. What writers of CAD files leave of
/// digits, and far under a hole's own tolerances. Larger: axes of neighbours that nearly meet are
/// mixed up. Smaller: files with few digits lose theirs.
inline constexpr double kOnDrawnAxis = 1e-3;

/// A step of 1e-3 units must ask for exactly 3 decimals, though the quotient may be rounded up.
inline constexpr double kDecimalsRounding = 1e-9;

/// How far, mm, a free-form surface of a CAD file may be off a plane, cylinder, cone or sphere to
/// be taken for one: what writers of such files allow themselves, and a tenth of what is measured.
/// Larger: shallow free-form skins become planes. Smaller: holes written as splines are lost.
inline constexpr double kKnownSurface = 2e-3;

/// How far normals may be off square to a cylinder's axis, without unit (rad): a taper of 0.06
/// degrees. Larger: slightly tapered walls are called cylinders until `kKnownSurface` parts them.
/// Smaller: splines that wave by micrometres are no longer known.
inline constexpr double kSquareNormal = 1e-3;

/// Sine of the angle up to which two faces of a CAD file meet without an edge: half a degree, above
/// what writers leave between tangent faces, below any chamfer. Larger: drafted walls run together.
/// Smaller: rounds that are not quite tangent become edges.
inline constexpr double kTangentFaces = 0.0087;

/// How far apart, mm, the edges of loose faces may be to be sewn: what writers of surface models
/// leave between trimmed faces. Larger: slits close that are meant. Smaller: the solid stays open,
/// and nothing is found on it.
inline constexpr double kSewnEdges = 0.02;

/// Stations of two plans that are no farther apart than this, in mm, stand in the same place: no
/// crew puts a stand down more exactly.
inline constexpr double kSamePlace = 1;

/// Stations of two plans may be one that moved up to this far, in mm (common practice: beyond a few
/// strides the crew sets up anew). Larger: fewer stations are told as removed and added.
inline constexpr double kFarthestMove = 3000;

/// A margin, and an expanded uncertainty, changed when it differs by this much or more, in mm: the
/// last digit that people are shown of either.
inline constexpr double kMarginChange = 0.1;
inline constexpr double kUncertaintyChange = 1e-3;

/// Lean of an instrument's standing axis, rad, under which it is told as upright, on its side or
/// hanging head down: half the last digit that people are shown, 0.1 degrees. Larger: a lean that
/// shows in digits is hidden. Smaller: "tilted by 0.0 degrees".
inline constexpr double kToldTurn = 0.0008;

/// Share of the largest flat area that a part can stand on from which its file's own +Z is taken as
/// up. Larger: drawings with +Z up are turned for a bigger side face. Smaller: a part is put on its
/// smallest boss because its file has it so.
inline constexpr double kOwnUpShare = 0.05;

/// Height, mm, over the floor under which a face that looks down lies on it for `start`: no ball or
/// tip gets between. Larger: low undersides that a small tip could touch are left out.
inline constexpr double kOnFloor = 3;

/// Triangles whose areas differ by a smaller share are alike, and the first one is told: far above
/// rounding. Larger: three points nearer together than need be.
inline constexpr double kSameArea = 1e-9;

/// A direction whose sine with an axis of the scene is below some 4e-5 is told by the axis' name.
inline constexpr double kSameAxis = 1e-9;

/// A screw that rises by less a turn, mm, is told as a turn: a last digit that people are shown.
inline constexpr double kNoRise = 1e-3;

/// What is left of a difference of exactly one such step is rounding of about 1e-13 mm.
inline constexpr double kChangeRounding = 1e-9;

}  // namespace standpoint::tolerance
