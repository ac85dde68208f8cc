#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

namespace standpoint {

/// Holds what the header of an STL, OFF or PLY file declares against the file itself, before an
/// importer sees it. Importers trust such headers: a file of a few bytes can have them ask for
/// gigabytes, and one cut short is read without a word, with its last faces missing or made up.
///
/// Binary STL and PLY must hold as many bytes as their counts take, text OFF and PLY as many lines,
/// the last of them whole, and text STL must end its solid. `extension` is in lower case with its
/// dot; `size` is the file's, in bytes. Gives the plain sentence what does not fit, or nothing
/// where everything does, where the header is not understood (the importer will say so) and for all
/// other formats. O(size) for text and for PLY, in constant memory; 64 kB read at most of the
/// others.
[[nodiscard]] std::optional<std::string> declared_too_much(const std::filesystem::path& file,
                                                           std::string_view extension,
                                                           std::uintmax_t size);

}  // namespace standpoint
