#pragma once

#include <filesystem>

#include "io/read/scene/name_table.h"
#include "io/read/scene/parse_scene.h"
#include "io/read/scene/read_values.h"
#include "io/read/text/json_cursor.h"
#include "standpoint/scene.h"

namespace standpoint {

/// A scene while it is being read: what is known so far, and what later parts refer to.
struct SceneReading {
  SceneFile result;
  NameTable body_names{"a body"};
  NameTable target_names{"a full target or an offset stylus"};
  NameTable feature_names{"a feature"};
  NameTable nest_names{"a nest, a nest site or a feature"};
  double zone_places = 0;  ///< candidates that the zones so far would generate
  double nest_places = 0;  ///< sites that the nest surfaces so far would generate

  [[nodiscard]] Scene& scene() { return result.scene; }
  [[nodiscard]] double mm(double scene_units) const {
    return scene_units * result.scene.mm_per_unit;
  }
};

// One function for each part of a scene file. Each reads the value at its cursor (which may be
// absent) into the reading, and tells all faults within. Parts that refer to names come after those
// that give them; the scene's units come first.

void read_instrument(const Cursor& at, SceneReading& reading);
void read_full_targets(const Cursor& at, SceneReading& reading);
/// After `read_full_targets`: the lists share one name space and one numbering.
void read_offset_styli(const Cursor& at, SceneReading& reading);
void read_features(const Cursor& at, SceneReading& reading);
void read_nests(const Cursor& at, SceneReading& reading);
/// After `read_nests`: they share one name space.
void read_nest_sites(const Cursor& at, SceneReading& reading);
void read_nest_surfaces(const Cursor& at, SceneReading& reading);
void read_stations(const Cursor& at, SceneReading& reading);
void read_walkways(const Cursor& at, SceneReading& reading);
void read_rules(const Cursor& at, Scene& scene);
void read_environment(const Cursor& at, Scene& scene);
/// After features and nests.
void read_datum(const Cursor& at, SceneReading& reading);
/// Loads each body's mesh; after `chord_tolerance`.
void read_bodies(const Cursor& at, const std::filesystem::path& folder, const BodyLoader& load,
                 SceneReading& reading);

/// Reads a polygon, mm, and tells where it is not simple. Nothing where anything is wrong with it.
[[nodiscard]] std::optional<std::vector<Vec2>> read_polygon(const Cursor& at,
                                                            const SceneReading& reading);

/// Tells a `spacing` (mm, at its cursor) that makes too many places over `polygon`, times `layers`
/// (heights). `places` is the running total.
void check_grid(const Cursor& at, double spacing, const std::vector<Vec2>& polygon, double layers,
                double& places);

}  // namespace standpoint
