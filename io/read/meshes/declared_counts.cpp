#include "io/read/meshes/declared_counts.h"

#include <algorithm>
#include <cctype>
#include <fstream>
#include <sstream>

#include <fmt/format.h>

#include "io/read/meshes/declared_ply.h"
#include "io/read/meshes/declared_text.h"

namespace standpoint {
namespace {

std::string in_lower_case(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return text;
}

std::optional<std::string> check_text_stl(const std::filesystem::path& file, std::uintmax_t size) {
  std::ifstream in(file, std::ios::binary);
  in.seekg(static_cast<std::streamoff>(size - std::min<std::uintmax_t>(size, kHeaderBytes)));
  std::stringstream tail;
  tail << in.rdbuf();
  if (in_lower_case(tail.str()).find("endsolid") == std::string::npos) {
    return "it begins as a text STL file but does not end its solid: it is cut short or damaged";
  }
  return std::nullopt;
}

std::optional<std::string> check_stl(const std::filesystem::path& file, std::uintmax_t size) {
  constexpr std::size_t kBeforeTriangles = 84;  // 80 bytes of text, then the count
  const std::string head = head_of(file);
  std::uint32_t triangles = 0;
  for (std::size_t i = 0; i < 4 && kBeforeTriangles <= head.size(); ++i) {
    triangles |= static_cast<std::uint32_t>(static_cast<unsigned char>(head[80 + i])) << (8 * i);
  }
  const double takes = static_cast<double>(kBeforeTriangles) + 50.0 * triangles;
  if (head.size() >= kBeforeTriangles && takes == static_cast<double>(size)) {
    return std::nullopt;  // binary, even where its text begins with "solid"
  }
  const std::size_t begin = std::min(head.find_first_not_of(" \t\r\n"), head.size());
  if (in_lower_case(head.substr(begin, 5)) == "solid") {
    return check_text_stl(file, size);
  }
  if (head.size() < kBeforeTriangles) {
    return fmt::format("it has {} bytes, too few for the header of an STL file", size);
  }
  if (takes > static_cast<double>(size)) {
    return too_short(fmt::format("{} triangles", triangles), fmt::format("{:.0f} bytes", takes),
                     fmt::format("{}", size));
  }
  return std::nullopt;
}

std::optional<std::string> check_off(const std::filesystem::path& file, std::uintmax_t size) {
  std::istringstream lines(head_of(file));
  std::string header;
  std::string magic;
  double vertices = 0;
  double faces = 0;
  bool is_whole = false;
  for (std::string line; !is_whole && std::getline(lines, line);) {
    header += line.substr(0, line.find('#')) + ' ';
    std::istringstream words(header);
    is_whole = static_cast<bool>(words >> magic >> vertices >> faces);
  }
  if (!is_whole || !magic.ends_with("OFF")) {
    return std::nullopt;
  }
  const std::string declared = fmt::format("{:.0f} vertices and {:.0f} faces", vertices, faces);
  if (vertices < 0 || faces < 0) {
    return "its header declares " + declared;
  }
  // The shortest vertex is "0 0 0" with a line's end, the shortest face "1 0"; the last needs no
  // end.
  const double least = 6 * vertices + 4 * faces - 1;
  if (least > static_cast<double>(size)) {
    return too_short(declared, fmt::format("{:.0f} bytes", least), fmt::format("{}", size));
  }
  const std::size_t from = lines.eof() ? size : static_cast<std::size_t>(lines.tellg());
  return missing_lines(file, from, vertices + faces, faces > 0, declared);
}

}  // namespace

std::optional<std::string> declared_too_much(const std::filesystem::path& file,
                                             std::string_view extension, std::uintmax_t size) {
  if (extension == ".stl") {
    return check_stl(file, size);
  }
  if (extension == ".off") {
    return check_off(file, size);
  }
  if (extension == ".ply") {
    return declared_too_much_ply(file, size);
  }
  return std::nullopt;
}

}  // namespace standpoint
