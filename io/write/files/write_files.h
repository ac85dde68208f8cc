#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace standpoint {

struct OutFile {
  std::string name;  ///< without folder
  std::string bytes;
};

/// Why files could not be put into `folder`, as a sentence, as far as can be told without touching
/// anything; nothing where it looks fine. Asked before long work, so that it is not lost.
[[nodiscard]] std::optional<std::string> why_unwritable(const std::filesystem::path& folder);

/// Writes all of `files` into `folder`, which is created where it is missing: all or none.
///
/// Each is written beside its place under a temporary name and flushed to the disk; only when all
/// are complete are they renamed into place. When anything fails, temporaries and folders made here
/// are removed, files already replaced are put back, and the error is one plain sentence. A reader
/// of one file sees its old or its new content, never a part. POSIX.
[[nodiscard]] std::optional<std::string> write_together(const std::filesystem::path& folder,
                                                        const std::vector<OutFile>& files);

}  // namespace standpoint
