#pragma once

#include <optional>
#include <string>
#include <vector>

#include "planner/part/face.h"

/// \file
/// What was found on a part that can be measured (contract section 8). Plain values, in the part's
/// frame, mm and rad.

namespace standpoint {

enum class FoundKind { hole, slot, cylinder, cone, sphere, plane, point, line };

/// One cylinder of a hole, from the opening inward.
struct HoleStep {
  Vec3 centre = Vec3::Zero();  ///< on the axis, at the end nearer to the opening
  double diameter = 0;
  double depth = 0;  ///< from `centre` inward, of this step alone
};

/// One thing that can be measured. Which members mean something is said by `kind`.
struct FoundFeature {
  std::string name;  ///< by kind, size and place: the same in whatever order the faces come
  FoundKind kind = FoundKind::hole;
  /// Hole: on its axis, at the end of its narrowest step that is nearer to the opening, so that
  /// centre, diameter and depth are those of a hole that can be touched. Slot: in the plane of its
  /// rim, in its middle. Cylinder, cone: half-way along. Sphere: its centre. Plane: a point of it
  /// inside its face.
  /// Point: itself. Line: where it begins. (Only lists have points and lines; none is found.)
  Vec3 centre = Vec3::Zero();
  Vec3 axis = Vec3::UnitZ();    ///< hole, slot: out of the opening; cone: toward where it narrows;
                                ///< plane, line: its normal, out of the material
  double diameter = 0;          ///< hole: of its narrowest step; cone: half-way along
  double depth = 0;             ///< hole: of its narrowest step; slot: from its rim to its end
  double length = 0;            ///< cylinder, cone: along the axis; slot: over both round ends;
                                ///< line: from end to end
  double width = 0;             ///< slot
  Vec3 along = Vec3::UnitX();   ///< slot: direction of its length
  double angle_rad = 0;         ///< cone: the full one
  bool through = false;         ///< hole, slot: both ends open to air
  bool hollow = false;          ///< cylinder, cone, sphere: measured on the inside
  Vec3 toward = Vec3::UnitZ();  ///< sphere: to the middle of what there is of it
  std::vector<HoleStep> steps;  ///< hole, and cylinder on the inside: from the opening inward
  bool tip = false;             ///< hole: a drill tip (a cone that closes it) at its end
  double countersink = 0;       ///< hole: greatest diameter of a cone that widens its opening, or 0
  std::vector<Vec3> points;     ///< plane: points inside its face, apart from one another;
                                ///< line: its two ends
  double area = 0;              ///< mm², of all its faces
  std::string component;        ///< the part's name in an assembly
  std::vector<std::size_t> faces;   ///< numbers of its faces in the file, ascending
  std::optional<SurfaceFit> fit;    ///< found on a mesh
  std::optional<double> tolerance;  ///< full width of its zone, mm, where annotation gives one
  std::string tolerance_from;       ///< which annotation
  bool datum = false;               ///< annotation makes it a datum feature
};

}  // namespace standpoint
