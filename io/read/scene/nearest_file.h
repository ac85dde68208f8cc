#pragma once

#include <filesystem>
#include <string>

namespace standpoint {

/// The file beside a missing `file` that was most likely meant, for a hint: in the same folder,
/// with a name that `nearest_name` takes for the one typed. Written as `file` is, so that it can be
/// typed instead; empty where none is near or the folder cannot be read. The same folder gives the
/// same answer whatever the order of its entries; only its first thousands are looked at. Never
/// throws.
[[nodiscard]] std::string nearest_file(const std::filesystem::path& file);

}  // namespace standpoint
