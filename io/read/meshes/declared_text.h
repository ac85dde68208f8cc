#pragma once

#include <filesystem>
#include <optional>
#include <string>

namespace standpoint {

inline constexpr std::size_t kHeaderBytes = 65536;

/// The first `kHeaderBytes` of a file, or all of a shorter one.
[[nodiscard]] std::string head_of(const std::filesystem::path& file);

/// The sentence for a file that is too short for what it declares, both told as they are.
[[nodiscard]] std::string too_short(const std::string& declared, const std::string& takes,
                                    const std::string& has);

/// Checks that a text file has at least `wanted` lines from byte `from` on, leaving out empty ones
/// and comments from '#', and, where `ends_with_list` says that the last of these begins with a
/// count, that as many numbers follow it. Gives the sentence what is missing.
[[nodiscard]] std::optional<std::string> missing_lines(const std::filesystem::path& file,
                                                       std::size_t from, double wanted,
                                                       bool ends_with_list,
                                                       const std::string& declared);

}  // namespace standpoint
