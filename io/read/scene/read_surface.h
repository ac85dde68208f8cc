#pragma once

#include <optional>
#include <vector>

#include "io/read/scene/scene_parts.h"

namespace standpoint {

/// Reads a feature of type `surface` and raises its touches on the body, whose mesh has been read
/// (contract section 9, docs/touches.md). Its polygon and box are in the frame, where it names one.
/// The ball that must rest at each touch is that of the smallest full target of `targets`, else of
/// the smallest stylus; empty means all of the scene. Tells all faults within, also a selection
/// without any touch; the touches are missing where anything is wrong.
[[nodiscard]] SurfaceFeature read_surface(const ObjectCursor& object,
                                          const std::optional<Pose>& world_from_frame,
                                          const std::vector<TargetId>& targets,
                                          const SceneReading& reading);

}  // namespace standpoint
