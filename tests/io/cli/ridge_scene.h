#pragma once

#include <nlohmann/json.hpp>

namespace standpoint {

/// A plate with a ridge along its middle: each of the two places sees one half of its top. Figures
/// invented.
inline nlohmann::json ridge_scene() {
  return nlohmann::json::parse(R"({
    "format": "standpoint-scene", "version": 1, "name": "ridge", "units": "mm",
    "bodies": [
      {"name": "plate", "role": "part", "box": {"size": [2000, 800, 50]},
       "pose": {"translate": [0, 0, -50]}},
      {"name": "ridge", "role": "fixture", "box": {"size": [2000, 20, 600]}}
    ],
    "instrument": {
      "name": "invented", "beam": {"diameter": 6, "growth_mrad": 0.2}, "range": [400, 40000],
      "elevation": [-60, 75], "body": {"radius": 160, "above": 180, "below": 320},
      "error": {"coverage_factor": 2, "transverse": {"fixed": 0.014, "per_metre": 0.0075},
                "radial": {"fixed": 0.012, "per_metre": 0.0009}}
    },
    "full_targets": [{"name": "ball-38", "diameter": 38.1, "acceptance": 30, "aperture": 42}],
    "features": [
      {"name": "top", "type": "plane", "normal": [0, 0, 1],
       "points": [[-900, -200, 0], [-900, 200, 0], [0, -200, 0], [0, 200, 0], [900, -200, 0],
                  [900, 200, 0]]},
      {"name": "pad", "type": "point", "at": [300, -300, 0], "normal": [0, 0, 1]}
    ],
    "nests": [
      {"name": "N1", "at": [-1500, 0, 1500], "normal": [0, 0, 1], "seat": 45},
      {"name": "N2", "at": [0, 500, 1500], "normal": [0, 0, 1], "seat": 45},
      {"name": "N3", "at": [1500, 0, 1500], "normal": [0, 0, 1], "seat": 45}
    ],
    "stations": {"fixed": [{"name": "front", "at": [0, -3000, 900]},
                           {"name": "back", "at": [0, 3000, 900]}]}
  })");
}

}  // namespace standpoint
