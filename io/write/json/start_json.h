#pragma once

#include <cstddef>
#include <filesystem>
#include <map>
#include <string>

#include "io/use/start_scene.h"

namespace standpoint {

/// The text of a scene file that people go on with by hand.
struct StartText {
  std::string text;
  std::map<std::string, std::size_t> line_of;  ///< of what a JSON pointer leads to, from 1
};

/// Writes the scene in at most 40 lines where it has one part (contract section 8), in mm. The same
/// scene gives the same bytes.
[[nodiscard]] StartText start_text(const StartScene& scene);

/// The JSON object of `start --json`: what was written into `folder`, and each guess with its line.
[[nodiscard]] std::string start_json(const StartScene& scene, const StartText& text,
                                     const std::filesystem::path& folder);

}  // namespace standpoint
