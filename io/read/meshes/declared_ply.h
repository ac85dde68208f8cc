#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>

namespace standpoint {

/// The part of `declared_too_much` for PLY: lists make its elements of different lengths, so that a
/// binary file is walked through, reading no more of it than the lists' counts.
[[nodiscard]] std::optional<std::string> declared_too_much_ply(const std::filesystem::path& file,
                                                               std::uintmax_t size);

}  // namespace standpoint
