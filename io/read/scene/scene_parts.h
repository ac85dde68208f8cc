#pragma once

#include <filesystem>

#include "io/read/scene/name_table.h"
#include "io/read/scene/parse_scene.h"
#include "io/read/scene/read_values.h"
#include "io/read/scene/scene_document.h"
#include "io/read/text/json_cursor.h"
#include "standpoint/scene.h"

namespace standpoint {

/// A scene while it is being read: what is known so far, and what later parts refer to.
struct SceneReading {
  SceneFile result;
  /// The file that is being read now: its unit, its frames.
  SceneDocument* document = nullptr;
  const SceneSources* sources = nullptr;
  NameTable body_names{"a body"};
  NameTable target_names{"a full target, a hole adapter or an offset stylus"};
  NameTable ball_names{"a full target"};  ///< what a hole adapter may carry
  NameTable feature_names{"a feature"};
  NameTable nest_names{"a nest, a nest site or a feature"};
  NameTable station_names{"a station or a zone"};
  NameTable walkway_names{"a walkway"};
  NameTable keep_out_names{"a keep-out"};
  double zone_places = 0;  ///< candidates that the zones so far would generate
  double nest_places = 0;  ///< sites that the nest surfaces so far would generate

  [[nodiscard]] Scene& scene() { return result.scene; }
  [[nodiscard]] double mm_per_unit() const { return document->mm_per_unit; }
  [[nodiscard]] double mm(double units) const { return units * document->mm_per_unit; }
};

// One function for each part of a scene file. Each reads the value at its cursor (which may be
// absent) into the reading, in the unit and the frames of `reading.document`, and tells all faults
// within. Parts that refer to names come after those that give them, in whatever file; each file's
// unit and frames come first.

/// Replaces what was read of an earlier file, as do the rules, the environment and the datum.
void read_instrument(const Cursor& at, SceneReading& reading);
void read_frames(const Cursor& at, SceneReading& reading);
void read_full_targets(const Cursor& at, SceneReading& reading);
/// After all full targets, which they carry, and before the styli: the three kinds share one name
/// space and one numbering.
void read_hole_adapters(const Cursor& at, SceneReading& reading);
void read_offset_styli(const Cursor& at, SceneReading& reading);
void read_features(const Cursor& at, SceneReading& reading);
void read_feature_lists(const Cursor& at, SceneReading& reading);
void read_nests(const Cursor& at, SceneReading& reading);
void read_nest_lists(const Cursor& at, SceneReading& reading);
/// After all nests: they share one name space.
void read_nest_sites(const Cursor& at, SceneReading& reading);
void read_nest_surfaces(const Cursor& at, SceneReading& reading);
void read_stations(const Cursor& at, SceneReading& reading);
void read_walkways(const Cursor& at, SceneReading& reading);
void read_rules(const Cursor& at, SceneReading& reading);
void read_environment(const Cursor& at, SceneReading& reading);
/// After features and nests.
void read_datum(const Cursor& at, SceneReading& reading);
/// After features and rules.
void read_alignment(const Cursor& at, SceneReading& reading);
/// Loads each body's mesh; after `chord_tolerance`.
void read_bodies(const Cursor& at, SceneReading& reading);

/// `translate` and `rotate_xyz_deg` of an object: rotation about fixed x, then y, then z, then the
/// shift (contract section 2). mm.
[[nodiscard]] Pose read_pose_keys(const ObjectCursor& object, const SceneReading& reading);
/// The pose of the frame that an object's `frame` names; none where it has no such key, or, told,
/// where its file has no such frame.
[[nodiscard]] std::optional<Pose> read_frame(const ObjectCursor& object,
                                             const SceneReading& reading);
/// Moves what was read in a frame's own coordinates into the scene's. O(1), in points for a plane.
void place_in_frame(const Pose& world_from_frame, Feature& feature);
void place_in_frame(const Pose& world_from_frame, Nest& nest);

/// Reads a polygon, mm, and tells where it is not simple. Nothing where anything is wrong with it.
[[nodiscard]] std::optional<std::vector<Vec2>> read_polygon(const Cursor& at,
                                                            const SceneReading& reading);

/// Tells a `spacing` (mm, at its cursor) that makes too many places over `polygon`, times `layers`
/// (heights). `places` is the running total.
void check_grid(const Cursor& at, double spacing, const std::vector<Vec2>& polygon, double layers,
                double& places);

}  // namespace standpoint
