#pragma once

#include <vector>

#include "planner/cell.h"

namespace standpoint {

/// One body that stands in a beam (or in a shank, head or ball), and how.
struct Obstruction {
  BodyId body;
  TriangleId triangle;     ///< of its least margin: tells the face
  double distance = 0;     ///< along the axis, mm, where this body first comes nearer than allowed
  double margin = 0;       ///< the body's least margin, mm
  Vec3 at = Vec3::Zero();  ///< the body's point there
  Vec3 side =
      Vec3::Zero();    ///< unit, from the axis toward that point; zero where it is on the axis
  bool stops = false;  ///< the axis itself meets the body; else it only clips the rim
};

/// All bodies that come nearer to `solid` than `margin`, each once, nearest along the axis first:
/// taking one away may uncover the next. O(triangles in the solid).
[[nodiscard]] std::vector<Obstruction> obstructions(const Cell& cell, const RoundCone& solid,
                                                    double margin);

}  // namespace standpoint
