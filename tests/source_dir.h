#pragma once

#include <filesystem>

namespace standpoint {

/// Where the sources stand: tests read scenes, schemas and sources from there.
[[nodiscard]] std::filesystem::path source_dir();

}  // namespace standpoint
