#pragma once

#include <cstddef>

namespace standpoint::tolerance {

// The tolerances of what is fitted to a mesh, each with its unit, why it has its size, and what a
// change does. Those of the rest of this floor stand in planner/model/tolerances.h.

/// The least scatter that the vertices of a mesh are taken to have, mm, for a mesh whose box has
/// this diagonal: files hold coordinates as floats (6e-8 of their size), and CAD systems leave a
/// fraction of a micrometre between a curve and its surface. Larger: tangent surfaces run into each
/// other. Smaller: surfaces fall to pieces by rounding.
[[nodiscard]] inline double least_scatter(double diagonal) {
  return 5e-4 > 3e-7 * diagonal ? 5e-4 : 3e-7 * diagonal;
}

/// Scatters by which a vertex may be off the surface that it belongs to: among a million normal
/// ones some seven are farther. Larger: neighbours that meet at a shallow angle run into each
/// other. Smaller: holes appear in noisy surfaces.
inline constexpr double kScattersWithin = 4.5;

/// By how many of its own deviations the mean square of a surface's distances may be above that of
/// scatter: of a thousand surfaces none is, where scatter is known. Larger: surfaces with a strip
/// of their neighbour count as sound. Smaller: sound ones are dropped.
inline constexpr double kSpreadOfRms = 4;

/// How much larger than its estimate scatter may be in a place. Larger, smaller: as above.
inline constexpr double kScatterKnown = 1.05;

/// By how many deviations the mean distance of a rim's vertices may be off none before the layer
/// along it counts as a row of what the surface is tangent to. Larger: walls take the first rows of
/// the rounds that they run into. Smaller: sound walls lose rows.
inline constexpr double kLayerBias = 4;

/// And how far that mean must be off, in scatters: a surface is nowhere held better than this.
/// Larger, smaller: as above.
inline constexpr double kLayerOff = 0.5;

/// The largest share of a region's area that may go with one layer. Larger: coarse planes lose the
/// large triangles that reach their rims. Smaller: rows stay on short walls.
inline constexpr double kLayerShare = 0.1;

/// What joining two flat patches may add to the sum of squared distances, in scatters squared: the
/// three numbers of a plane that fall away take 3 on average, and 1 in 6000 takes 20. Larger:
/// curved surfaces are cut coarser. Smaller: noisy planes fall to pieces.
inline constexpr double kFlatGrowth = 20;

/// A triangle or patch narrower than this many scatters is turned by them so far that its normal
/// says nothing (10 degrees at 1 deviation).
inline constexpr double kWidthForDirection = 6;

/// How far the normal of a facet may be off that of the surface at its middle, rad (20 degrees):
/// half a step of the widest. Larger: end faces that touch a surface with all corners run into it.
inline constexpr double kFacetLean = 0.35;

/// The widest angle over which one triangle may bridge a round surface, rad (57 degrees): a regular
/// prism of six sides steps by 60 and is read as planes.
inline constexpr double kWidestStep = 1.0;

/// Above this step, rad (35 degrees), a round needs six facets; above the next (22.6) four.
/// Else three. Symmetrical chamfers put four lines on one cylinder by chance, hardly six.
inline constexpr double kWideStep = 0.6109;
inline constexpr double kMiddleStep = 0.3944;

/// The largest share of a round's area that one of its facets may have. A plane with the first
/// strips of the rounds along its edges lies on a wide cylinder, too, and has more of it.
inline constexpr double kOneFacetsShare = 0.6;

/// A round whose facets turn by more than this, rad (25 degrees: under 15 sides), may be a prism by
/// intent: it is told as doubtful.
inline constexpr double kDoubtfulStep = 0.4363;

/// A cylinder or sphere of a radius this many times the extent of its points is taken for a plane.
inline constexpr double kFlattestRadius = 1000;

/// A cone whose half-angle is nearer to none or to square than this, rad (half a degree), is taken
/// for a cylinder or plane.
inline constexpr double kLeastConeAngle = 0.0087;

/// Share of a cone's radius within which a point counts as at its tip, where it has no normal.
inline constexpr double kTipShare = 0.02;

/// A mesh of more patches than this is looked at more coarsely where nothing fits, for time.
inline constexpr std::size_t kManyPatches = 20000;

/// A round surface goes on smoothly beyond an edge where the arc over it rises no more than this
/// many times what its own facets hide. Larger: short cylinders between rounded edges are taken for
/// free forms. Smaller: rows of a torus are taken for cones.
inline constexpr double kHiddenRise = 2;

/// How many times the chord of a mesh's cylinders the middles of a sphere's sides may be off it:
/// one tool cut both. Larger: flat parts with rounded edges are taken for spheres. Smaller: spheres
/// in meshes of small holes are lost.
inline constexpr double kSphereChord = 3;

/// The greatest angle between the first row of a round and what it is tangent to, rad (12 degrees).
/// Larger: narrow lead-in chamfers are taken for rows. Smaller: the first rows are told as cones.
inline constexpr double kHalfStep = 0.2094;

/// Least half-angle of a cap that is taken for a sphere, rad (25 degrees). Less of it is little
/// different from other curved surfaces, and its centre is ill held.
inline constexpr double kLeastCap = 0.4363;

/// How many times as wide as its neighbour across the rim a facet may be for the two to be rows of
/// one surface. Larger: tapers that run into rounds are taken for rows of these. Smaller: rows of a
/// torus are taken for cones.
inline constexpr double kRowWidths = 2;

/// Least size of a facet's neighbour that tells of a free form, as a share of the facet's own. What
/// is smaller beside a plane is the round of its edge, or a piece of it that coarsening has left.
inline constexpr double kFacetShare = 0.125;

/// Share of a facet's rim along which it bends gently to others. Larger: facets at the border of a
/// free-form surface are read as planes. Smaller: planes that touch one are read as its facets.
inline constexpr double kGentleRim = 0.2;

/// What counts as a crumb beside a fitted surface: a stretch of at most so many vertices, or one
/// narrower than so many scatters on average, whose vertices lie on the surface. Scatter tears
/// crumbs out. Larger: end faces of few vertices may be lost. Smaller: rims run round crumbs.
inline constexpr std::size_t kCrumbVertices = 12;
inline constexpr double kCrumbWidth = 20;

/// How far a wider crumb may lean from the surface that takes it, rad (45 degrees).
inline constexpr double kCrumbLean = 0.7854;

/// How far a piece of a plane may lean from it, rad (3 degrees), where a mesh was made coarser and
/// its vertices moved within the chord. Larger: first facets of tangent rounds are taken.
inline constexpr double kPieceLean = 0.0524;

/// How far, as a share of its diagonal, a mesh without round surfaces is taken to cut the corners
/// of curves at most. Larger: chamfers of small angle are read as facets of a round. Smaller:
/// facets of free-form surfaces are read as planes.
inline constexpr double kChordShare = 5e-4;

/// What putting an axis square to a plane may add to the sum of squared distances, in scatters
/// squared: the two numbers that fall away take 2 on average, and 1 in 400 takes 12. Larger: walls
/// that are drafted by little are put square. Smaller: short walls keep what scatter says of them.
inline constexpr double kSquareGrowth = 12;

/// What putting a wall on its neighbour's axis may add to the sum of squared distances, in scatters
/// squared: the four numbers that fall away take 4 on average, and 1 in 10000 takes 24. Larger:
/// steps that are off their hole's axis are put on it. Smaller: drill tips keep axes of their own.
inline constexpr double kSharedGrowth = 24;

/// How far (1 - cosine; 10 degrees) an axis may be from a plane's normal to be tried square to it.
inline constexpr double kNearlySquare = 0.015;

/// How far (sine; 10 degrees) a plane may be from square to its neighbour to be tried square to it.
inline constexpr double kNearlyAlong = 0.174;

/// Two fitted faces whose normals differ by less than this along their edge are tangent, rad (6
/// degrees); where one is not fitted, its facets stand half a step off, and it is 25. Larger:
/// shallow chamfers vanish from the rims. Smaller: noise makes corners of tangent faces.
inline constexpr double kSmoothFitted = 0.1047;
inline constexpr double kSmoothFacets = 0.4363;

/// A face is told as doubtful where more than this share of its area has a vertex that is off it
/// by twice what a vertex may be. Larger: planes of few triangles that a coarser mesh has moved are
/// told as sure. Smaller: large ones are doubtful for their rims.
inline constexpr double kDoubtfulShare = 0.1;

/// A round face whose points a plane fits within this many scatters, root mean square, is told as
/// doubtful: its radius is little more than noise.
inline constexpr double kDoubtfulRise = 3;

}  // namespace standpoint::tolerance
