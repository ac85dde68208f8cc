#include "io/read/meshes/declared_text.h"

#include <algorithm>
#include <fstream>
#include <sstream>

#include <fmt/format.h>

namespace standpoint {

std::string head_of(const std::filesystem::path& file) {
  std::ifstream in(file, std::ios::binary);
  std::string head(kHeaderBytes, '\0');
  in.read(head.data(), static_cast<std::streamsize>(head.size()));
  head.resize(static_cast<std::size_t>(std::max<std::streamsize>(in.gcount(), 0)));
  return head;
}

std::string too_short(const std::string& declared, const std::string& takes,
                      const std::string& has) {
  return fmt::format(
      "its header declares {}, which takes at least {}, but the file has {}: it is cut "
      "short or damaged",
      declared, takes, has);
}

std::optional<std::string> missing_lines(const std::filesystem::path& file, std::size_t from,
                                         double wanted, bool ends_with_list,
                                         const std::string& declared) {
  std::ifstream in(file, std::ios::binary);
  in.seekg(static_cast<std::streamoff>(from));
  double lines = 0;
  std::string line;
  while (lines < wanted && std::getline(in, line)) {
    line.resize(std::min(line.find('#'), line.size()));
    lines += line.find_first_not_of(" \t\r") == std::string::npos ? 0 : 1;
  }
  if (lines < wanted) {
    return too_short(declared, fmt::format("{:.0f} lines", wanted), fmt::format("{:.0f}", lines));
  }
  if (ends_with_list && wanted > 0) {
    std::istringstream words(line);
    double count = 0;
    words >> count;
    double found = 0;
    for (std::string word; words >> word;) {
      ++found;
    }
    if (found < count) {
      return fmt::format(
          "its last face should have {:.0f} corners and has {:.0f}: the file is cut short", count,
          found);
    }
  }
  return std::nullopt;
}

}  // namespace standpoint
