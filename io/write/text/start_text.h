#pragma once

#include <filesystem>
#include <iosfwd>

#include "io/use/start_scene.h"
#include "io/write/json/start_json.h"

namespace standpoint {

/// Prints each guess with its line and how to change it, and what to do next.
void print_start(const StartScene& scene, const StartText& text,
                 const std::filesystem::path& folder, std::ostream& out);

}  // namespace standpoint
