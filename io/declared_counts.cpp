#include "io/declared_counts.h"

#include <cstring>
#include <fstream>
#include <sstream>
#include <vector>

#include <fmt/format.h>

namespace standpoint {
namespace {

constexpr std::size_t kHeaderBytes = 65536;

std::string head_of(const std::filesystem::path& file) {
  std::ifstream in(file, std::ios::binary);
  std::string head(kHeaderBytes, '\0');
  in.read(head.data(), static_cast<std::streamsize>(head.size()));
  head.resize(static_cast<std::size_t>(std::max<std::streamsize>(in.gcount(), 0)));
  return head;
}

/// In double, because a liar's product may not fit an integer.
std::optional<std::string> compared(const std::string& declared, double least_bytes,
                                    std::uintmax_t size) {
  if (least_bytes <= static_cast<double>(size)) {
    return std::nullopt;
  }
  return fmt::format(
      "its header declares {}, which takes at least {:.0f} bytes, but the file has {}: "
      "it is cut short or damaged",
      declared, least_bytes, size);
}

std::optional<std::string> check_stl(const std::string& head, std::uintmax_t size) {
  constexpr std::size_t kBeforeTriangles = 84;  // 80 bytes of text, then the count
  if (head.starts_with("solid")) {
    return std::nullopt;  // the text form, which declares nothing
  }
  if (head.size() < kBeforeTriangles) {
    return fmt::format("it has {} bytes, too few for the header of an STL file", size);
  }
  std::uint32_t triangles = 0;
  for (std::size_t i = 0; i < 4; ++i) {
    triangles |= static_cast<std::uint32_t>(static_cast<unsigned char>(head[80 + i])) << (8 * i);
  }
  return compared(fmt::format("{} triangles", triangles), 84.0 + 50.0 * triangles, size);
}

std::optional<std::string> check_off(const std::string& head, std::uintmax_t size) {
  std::istringstream lines(head);
  std::string words;
  for (std::string line; std::getline(lines, line);) {
    words += line.substr(0, line.find('#')) + ' ';
  }
  std::istringstream in(words);
  std::string magic;
  double vertices = 0;
  double faces = 0;
  if (!(in >> magic) || !magic.ends_with("OFF") || !(in >> vertices >> faces)) {
    return std::nullopt;
  }
  if (vertices < 0 || faces < 0) {
    return fmt::format("its header declares {} vertices and {} faces", vertices, faces);
  }
  // The shortest vertex is "0 0 0" with a line's end, the shortest face "1 0"; the last needs no
  // end.
  return compared(fmt::format("{} vertices and {} faces", vertices, faces),
                  6 * vertices + 4 * faces - 1, size);
}

double bytes_of_ply_type(const std::string& type) {
  if (type == "char" || type == "uchar" || type == "int8" || type == "uint8") {
    return 1;
  }
  if (type == "short" || type == "ushort" || type == "int16" || type == "uint16") {
    return 2;
  }
  return type == "double" || type == "float64" ? 8 : 4;
}

struct PlyElement {
  std::string name;
  double count = 0;
  double least_bytes = 0;  ///< of one
};

std::optional<std::string> check_ply(const std::string& head, std::uintmax_t size) {
  std::istringstream lines(head);
  std::vector<PlyElement> elements;
  bool is_text = true;
  for (std::string line; std::getline(lines, line);) {
    std::istringstream in(line);
    std::string word;
    in >> word;
    if (word == "format") {
      in >> word;
      is_text = word == "ascii";
    } else if (word == "element") {
      PlyElement& element = elements.emplace_back();
      in >> element.name >> element.count;
    } else if (word == "property" && !elements.empty()) {
      in >> word;
      if (word == "list") {
        in >> word;  // an empty list still has its count
      }
      // The shortest number in text is a digit and what parts it from the next.
      elements.back().least_bytes += is_text ? 2 : bytes_of_ply_type(word);
    } else if (word == "end_header") {
      break;
    }
  }
  double least = 0;
  std::string declared;
  for (const PlyElement& element : elements) {
    least += std::max(element.count, 0.0) * element.least_bytes;
    declared +=
        fmt::format("{}{} of '{}'", declared.empty() ? "" : ", ", element.count, element.name);
  }
  return compared(declared, is_text ? least - 1 : least, size);
}

}  // namespace

std::optional<std::string> declared_too_much(const std::filesystem::path& file,
                                             std::string_view extension, std::uintmax_t size) {
  if (extension == ".stl") {
    return check_stl(head_of(file), size);
  }
  if (extension == ".off") {
    return check_off(head_of(file), size);
  }
  if (extension == ".ply") {
    return check_ply(head_of(file), size);
  }
  return std::nullopt;
}

}  // namespace standpoint
