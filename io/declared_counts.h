#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

namespace standpoint {

/// Holds what the header of an STL, OFF or PLY file declares against the file's size, before an
/// importer sets memory aside for it: such a file of a few bytes can otherwise ask for gigabytes.
///
/// `extension` is in lower case with its dot; `size` is the file's, in bytes. Gives the plain
/// sentence what does not fit, or nothing where everything does, where the header is not understood
/// (the importer will say so) and for all other formats. Reads at most 64 kB of the file.
[[nodiscard]] std::optional<std::string> declared_too_much(const std::filesystem::path& file,
                                                           std::string_view extension,
                                                           std::uintmax_t size);

}  // namespace standpoint
