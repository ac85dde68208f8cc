#pragma once

#include <vector>

#include <TopoDS_Shape.hxx>

#include "rows.h"
#include "shape_files.h"

namespace standpoint::scenes {

/// A part and the names of its faces.
struct Part {
  TopoDS_Shape shape;
  std::vector<FaceName> faces;
};

/// The underside of the bedplate stands this high above the bay's floor, mm.
inline constexpr double kUndersideHeight = 350;

/// A foot of the bedplate: the middle of the place that rests on a stand, in the part's frame, mm.
[[nodiscard]] std::vector<gp_Pnt> bedplate_feet();

/// The invented cast bedplate of a tidal turbine, 3600 x 2200 x 1100 mm: a slab with rounded
/// corners that carries two bearing housings, a flange, four machined pads, a recessed pocket,
/// trunnions, pins and tooling balls. Frame: origin in the middle of the underside, x toward the
/// drive end, z up. Adds its features to `features`.
[[nodiscard]] Part make_bedplate(FeatureRows& features);

}  // namespace standpoint::scenes
