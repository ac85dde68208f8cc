#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "geometry/vec.h"

/// \file
/// A part as its faces: the surface each is a piece of, where it ends, and what lies beyond. What
/// can be measured is found on this, whether it came from CAD or was fitted to a mesh. Plain
/// values, in the part's frame, mm and rad. Directions are unit vectors.

namespace standpoint {

/// The kinds of surface. The first four are measured as one element; a torus is mostly the round of
/// an edge.
enum class SurfaceKind { plane, cylinder, cone, sphere, torus, other };

/// The endless surface that a face is a piece of.
struct Surface {
  SurfaceKind kind = SurfaceKind::other;
  Vec3 at = Vec3::Zero();     ///< a plane's point; a point of the axis; a sphere's, torus's centre
  Vec3 axis = Vec3::UnitZ();  ///< plane: out of the material; cone: the way it gets wider
  double radius = 0;  ///< of a cylinder or sphere; of a cone at `at`; of a torus to its tube
  double half_angle_rad = 0;  ///< of a cone, between its axis and its side
  double tube_radius = 0;     ///< of a torus
};

/// How the material bends over an edge from one face to the next.
enum class EdgeBend {
  convex,   ///< material below 180 degrees: an outer corner
  concave,  ///< material above 180 degrees: an inner corner
  smooth,   ///< the two faces are tangent
  open      ///< no face beyond
};

/// One piece of a face's rim, with one face beyond it.
struct Edge {
  std::optional<std::size_t> beyond;  ///< index into PartFaces::faces; the face itself at a seam
  EdgeBend bend = EdgeBend::open;
  /// Along the edge the way the loop goes, both ends with it, close to it by the chord bound, and
  /// turning by less than half a round about any axis from one to the next.
  std::vector<Vec3> points;
};

/// A closed round of edges, each beginning where the one before it ends. Seen against the outward
/// normal, the material of the face lies to the left. A face that goes all the way round may come
/// with a seam, which its loop passes once each way, or without, as two loops. An edge without
/// length (a cone's tip, a sphere's pole) is left out.
using Loop = std::vector<Edge>;

/// How well a surface that was fitted to a region of a mesh fits.
struct SurfaceFit {
  double rms = 0;                ///< of the distances of the region's vertices, mm
  double worst = 0;              ///< greatest of them, mm
  std::size_t triangles = 0;     ///< of the region
  std::size_t of_triangles = 0;  ///< of the whole mesh
  bool doubtful = false;         ///< fits, but another kind of surface fits about as well
};

/// One face.
struct Face {
  std::size_t number = 0;  ///< in its file, from 1; of a mesh, the region's
  std::string component;   ///< the part's name in an assembly; empty where there is none
  std::size_t solid = 0;   ///< which connected body of material it belongs to
  Surface surface;
  bool hollow = false;            ///< round ones: the material lies outside it
  double area = 0;                ///< mm²
  std::vector<Loop> loops;        ///< all its rims, in no order; none on a whole sphere
  std::optional<SurfaceFit> fit;  ///< of a mesh only
};

/// All faces of a part or an assembly.
struct PartFaces {
  std::vector<Face> faces;
  double chord = 0;  ///< how far an edge's points may cut its curve's corners, mm
};

}  // namespace standpoint
