#include "io/read/scene/nearest_file.h"

#include <algorithm>
#include <system_error>
#include <vector>

#include "io/read/text/nearest_name.h"

namespace standpoint {

std::string nearest_file(const std::filesystem::path& file) {
  constexpr std::size_t kMostEntries = 5000;
  const std::filesystem::path folder = file.parent_path();
  std::vector<std::string> names;
  std::error_code error;
  std::filesystem::directory_iterator entry(folder.empty() ? "." : folder, error);
  while (!error && entry != std::filesystem::directory_iterator() && names.size() < kMostEntries) {
    names.push_back(entry->path().filename().string());
    entry.increment(error);
  }
  std::sort(names.begin(), names.end());
  const std::vector<std::string_view> views(names.begin(), names.end());
  const std::string_view near = nearest_name(file.filename().string(), views);
  return near.empty() ? std::string() : (folder / near).string();
}

}  // namespace standpoint
