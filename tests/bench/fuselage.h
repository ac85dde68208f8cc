#pragma once

#include <cstdint>
#include <vector>

#include "geometry/round_cone.h"
#include "standpoint/shapes.h"

namespace standpoint::bench {

// An invented scene for benchmarks, and for the tests that hold the engine to its oracle at size:
// a fuselage of 20 m x 4 m with a bumpy skin, and boxes scattered round it as jigs and trolleys
// are.

/// Where the skin is and which way it faces.
struct SkinPoint {
  Vec3 at;
  Vec3 normal;  ///< unit, outward
};

/// A point of the smooth skin; `along` 0..1 is the place along the fuselage, `turn` rad around it.
[[nodiscard]] SkinPoint skin_point(double along, double turn);

/// The scene in about `triangles` triangles (at least 5000): the skin, then 200 boxes in a second
/// body. World frame, mm. The same count gives the same scene.
[[nodiscard]] std::vector<Mesh> make_fuselage(std::size_t triangles);

/// 0.2 mm wires, each strung along the rim of one of `beams` or just outside it: what a bundle of
/// rays slips past. One body.
[[nodiscard]] Mesh make_rim_wires(const std::vector<RoundCone>& beams, std::uint64_t seed);

/// A mixture as planning asks it: 200 stations 3-8 m off the skin, each with targets 20 mm off the
/// skin within 8 m along the fuselage, station by station. Beams of 6 mm growing by 0.2 mrad,
/// from station to target. Most are blocked.
[[nodiscard]] std::vector<RoundCone> planning_beams(std::size_t count);

/// Beams of 3-8 m that skim the skin: from targets 20 mm off it, at most 4 degrees off the tangent
/// plane. Not all are clear: the caller keeps those that are.
[[nodiscard]] std::vector<RoundCone> skimming_beams(std::size_t count);

}  // namespace standpoint::bench
