#pragma once

#include <filesystem>
#include <string>

namespace standpoint::scenes {

/// Writes the demo into `folder`: the bedplate on four stands in a bay with columns, a control
/// cabinet, a guard fence and walkways, with its `scene.json`. Empty on success, else what failed.
[[nodiscard]] std::string make_demo(const std::filesystem::path& folder);

}  // namespace standpoint::scenes
