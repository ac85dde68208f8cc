#pragma once

namespace standpoint::tolerance {

// Every tolerance of this floor, with its unit, why it has its size, and what a change does. Those
// of planner/ stand in planner/model/tolerances.h.

/// Points count as one line when none is farther from their longest connection than this share of
/// its length: what is left of the plane's tilt then is rounding.
inline constexpr double kLineShare = 1e-6;

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

}  // namespace standpoint::tolerance
