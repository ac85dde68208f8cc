#pragma once

#include <filesystem>
#include <string>
#include <string_view>

#include <nlohmann/json.hpp>

#include "io/read/scene/parse_scene.h"

namespace standpoint::scene_samples {

using Json = nlohmann::ordered_json;

/// A valid scene in mm that uses every key there is, each optional one at least once in each kind
/// of object that may have it. All values are invented.
[[nodiscard]] const Json& full_scene();

/// The least that is a scene.
[[nodiscard]] const Json& least_scene();

/// Stands in for the body reader: a triangle for every file, except that "missing.stl" cannot be
/// read and "broken.stl" has two vertices that are not finite.
[[nodiscard]] tl::expected<ReadBody, std::string> load_stand_in(const BodyRequest& request);

/// Stands in for all files that the full scene names: the bodies above, the scene "hall.json" and
/// the lists "points.csv" (p1, p2) and "pins.csv" (P1). No other scene or list can be read.
[[nodiscard]] SceneSources stand_ins();

/// `parse_scene` of the file "cell/cell-file.json" with the stand-ins.
[[nodiscard]] tl::expected<SceneFile, Faults> parse(const std::string& text);
[[nodiscard]] tl::expected<SceneFile, Faults> parse(const Json& scene);

/// The faults as text, one a line, for messages.
[[nodiscard]] std::string listed(const Faults& faults);
[[nodiscard]] std::string listed(const tl::expected<SceneFile, Faults>& result);

}  // namespace standpoint::scene_samples
