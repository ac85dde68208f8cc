#pragma once

#include <filesystem>
#include <optional>

namespace standpoint {

/// The unit of a 3MF or AMF file, mm, from its root element's `unit` attribute, which Assimp does
/// not hand on. Without the attribute both standards mean millimetres (3MF core specification 3.4;
/// ISO/ASTM 52915). Nothing where the file cannot be looked into or names an unknown unit. Both
/// formats may be zipped. Reads at most 64 kB of the model.
[[nodiscard]] std::optional<double> stated_unit_of_print_file(const std::filesystem::path& file);

}  // namespace standpoint
