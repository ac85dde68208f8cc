#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>

#include "io/read/bodies/apart.h"

namespace standpoint {

/// What reads a file, by the ending of its name.
enum class FileKind { step, iges, mesh, unknown };

[[nodiscard]] FileKind kind_of_file(const std::filesystem::path& file);

/// What speaks against a file before anything is read of it, as one plain sentence without the
/// file's name. `size` gets its bytes.
[[nodiscard]] std::optional<std::string> why_not_read(const std::filesystem::path& file,
                                                      FileKind kind, std::uintmax_t& size);

/// What reading a file of so many bytes may use up. Honest files were seen to need up to some 60
/// (STL) to 150 (STEP) times their size, so 4 GB and 400 times the size leaves them room, while a
/// small file cannot take the machine down. Never more than 0.8 of the machine. Time likewise: STEP
/// was seen to take up to 3 s a megabyte.
[[nodiscard]] ApartLimits limits_for(std::uintmax_t size);

}  // namespace standpoint
