#pragma once

namespace standpoint::tolerance {

// Every tolerance by which it is decided what can be measured on a part (docs/features.md), with
// its unit, why it has its size, and what a change does. They stand apart from planner/model so
// that finding features can be compiled and changed by itself.

/// How far, mm, faces of one cylinder, cone or sphere may be off one another: axes, radii, ends.
/// What CAD writers leave is some micrometres. A fitted face adds `kFitSlack` times its own
/// residual. Larger: steps that differ by hundredths become one. Smaller: halves are not merged.
inline constexpr double kSameFaces = 0.01;

/// How many times its root mean square residual a fitted face may be off another one. Its
/// parameters scatter by far less than the residual where it has many triangles, by about it where
/// it has few.
inline constexpr double kFitSlack = 3;

/// Sine of the angle up to which directions count as one (half of the tangent angle that CAD files
/// are read with), for planes square to an axis and axes along one another.
inline constexpr double kSameDirection = 0.005;

/// Least share of the round that a hole, boss or cone goes at some height (contract section 8: a
/// notch of at most a tenth), less one of the 360 rays that count it.
inline constexpr double kWholeRound = 0.9 - 1.0 / 360;

/// Least share of the round of a step beside a whole one: a spot face that is cut by the part's
/// side. Above the half rounds that slots and pockets end in. Smaller: such an end becomes a step
/// of a hole drilled in its middle.
inline constexpr double kPartRound = 0.6;

/// How far, in shares of a round, a slot's end may be off half a round: what drafted walls change.
inline constexpr double kSlotEnd = 0.1;

/// Least share of a sphere that is measured where its rim is tangent to what is beyond: the round
/// of a corner of three walls is an eighth.
inline constexpr double kSphereShare = 0.25;

/// A cone whose side is at most this share of its greatest diameter is a chamfered edge.
inline constexpr double kChamferShare = 0.1;

/// Least distance of a plane's points from its rim as a share of the greatest there is, and the
/// distance, mm, from which on none is asked: a ball of 38.1 mm (common practice) then clears a
/// wall there. Larger: the points huddle in the middle. Smaller: a ball meets the wall beside the
/// plane.
inline constexpr double kOffRimShare = 0.5;
inline constexpr double kOffRim = 20;

/// The share of that distance that a point may fall short of it: far above rounding, far below what
/// is measured. Smaller: rounding decides which points of a strip are taken.
inline constexpr double kOffRimSlack = 1e-6;

/// One more point of a plane for each such length, mm, of its span.
inline constexpr double kSpanOfPoint = 250;

/// How near to each other, mm, two places count as equal in the order that numbers names: far above
/// rounding, below what is measured.
inline constexpr double kOrderOfPlaces = 1e-3;

/// Cosine of the angle, 1 degree, up to which a feature counts as along an axis that is asked for.
inline constexpr double kAlongAxis = 0.99984769515639127;

/// Thousandths of a mm that a size may fall short of a half to be rounded up: 4.7625 is no double.
inline constexpr double kSizeRounding = 1e-4;

}  // namespace standpoint::tolerance
