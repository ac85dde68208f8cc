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

/// `parse_scene` in the folder "cell" with the stand-in.
[[nodiscard]] tl::expected<SceneFile, Faults> parse(const std::string& text);
[[nodiscard]] tl::expected<SceneFile, Faults> parse(const Json& scene);

/// The faults as text, one a line, for messages.
[[nodiscard]] std::string listed(const Faults& faults);
[[nodiscard]] std::string listed(const tl::expected<SceneFile, Faults>& result);

}  // namespace standpoint::scene_samples
