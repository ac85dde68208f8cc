#include "io/read/meshes/declared_ply.h"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <sstream>
#include <vector>

#include <fmt/format.h>

#include "io/read/meshes/declared_text.h"

namespace standpoint {
namespace {

struct Property {
  std::size_t count_bytes = 0;  ///< of a list's count; 0 for a plain number
  std::size_t bytes = 4;        ///< of one number
};

struct Element {
  std::string name;
  double count = 0;  ///< in double, because a liar's may not fit an integer
  std::vector<Property> properties;

  [[nodiscard]] bool has_list() const {
    return std::any_of(properties.begin(), properties.end(),
                       [](const Property& p) { return p.count_bytes > 0; });
  }
  [[nodiscard]] double least_bytes() const {
    double sum = 0;
    for (const Property& p : properties) {
      sum += static_cast<double>(p.count_bytes > 0 ? p.count_bytes : p.bytes);
    }
    return sum;
  }
};

enum class Form { text, little_endian, big_endian };

struct Header {
  Form form = Form::text;
  std::vector<Element> elements;
  std::size_t bytes = 0;  ///< of the header itself
};

std::size_t bytes_of(const std::string& type) {
  if (type == "char" || type == "uchar" || type == "int8" || type == "uint8") {
    return 1;
  }
  if (type == "short" || type == "ushort" || type == "int16" || type == "uint16") {
    return 2;
  }
  return type == "double" || type == "float64" ? 8 : 4;
}

Property property_of(std::istringstream& words) {
  Property property;
  std::string type;
  words >> type;
  if (type == "list") {
    words >> type;
    property.count_bytes = bytes_of(type);
    words >> type;
  }
  property.bytes = bytes_of(type);
  return property;
}

std::optional<Header> header_of(const std::string& head) {
  std::istringstream lines(head);
  Header header;
  for (std::string line; std::getline(lines, line);) {
    std::istringstream words(line);
    std::string word;
    words >> word;
    if (word == "format") {
      words >> word;
      header.form = word == "ascii"                  ? Form::text
                    : word == "binary_little_endian" ? Form::little_endian
                                                     : Form::big_endian;
    } else if (word == "element") {
      Element& element = header.elements.emplace_back();
      words >> element.name >> element.count;
    } else if (word == "property" && !header.elements.empty()) {
      header.elements.back().properties.push_back(property_of(words));
    } else if (word == "end_header") {
      header.bytes = lines.eof() ? head.size() : static_cast<std::size_t>(lines.tellg());
      return header;
    }
  }
  return std::nullopt;
}

/// Walks over the elements of a binary file as far as it goes.
class Walker {
 public:
  Walker(const std::filesystem::path& file, const Header& header, std::uintmax_t size)
      : in_(file, std::ios::binary), form_(header.form), left_(size - header.bytes) {
    in_.seekg(static_cast<std::streamoff>(header.bytes));
  }

  /// How many of the element's instances are there whole.
  double walk(const Element& element) {
    if (!element.has_list()) {
      const double each = std::max(element.least_bytes(), 1.0);
      const double whole = std::min(element.count, std::floor(static_cast<double>(left_) / each));
      skip(static_cast<std::uintmax_t>(whole * each));
      return whole;
    }
    double whole = 0;
    while (whole < element.count && walk_one(element)) {
      ++whole;
    }
    return whole;
  }

 private:
  bool walk_one(const Element& element) {
    for (const Property& p : element.properties) {
      std::uintmax_t bytes = p.bytes;
      if (p.count_bytes > 0) {
        const std::optional<std::uintmax_t> count = read_count(p.count_bytes);
        if (!count) {
          return false;
        }
        bytes *= *count;
      }
      if (bytes > left_) {
        return false;
      }
      skip(bytes);
    }
    return true;
  }

  std::optional<std::uintmax_t> read_count(std::size_t bytes) {
    char raw[8] = {};
    if (bytes > left_ || !in_.read(raw, static_cast<std::streamsize>(bytes))) {
      return std::nullopt;
    }
    left_ -= bytes;
    std::uintmax_t count = 0;
    for (std::size_t i = 0; i < bytes; ++i) {
      const std::size_t at = form_ == Form::little_endian ? bytes - 1 - i : i;
      count = count << 8 | static_cast<unsigned char>(raw[at]);
    }
    return count;
  }

  void skip(std::uintmax_t bytes) {
    left_ -= bytes;
    if (bytes < 4096) {
      in_.ignore(static_cast<std::streamsize>(bytes));  // seeking would throw the buffer away
    } else {
      in_.seekg(static_cast<std::streamoff>(bytes), std::ios::cur);
    }
  }

  std::ifstream in_;
  Form form_;
  std::uintmax_t left_;
};

std::string declared_by(const Header& header) {
  std::string declared;
  for (const Element& element : header.elements) {
    declared += fmt::format("{}{:.0f} of '{:.20}'", declared.empty() ? "" : ", ", element.count,
                            element.name);
  }
  return declared;
}

}  // namespace

std::optional<std::string> declared_too_much_ply(const std::filesystem::path& file,
                                                 std::uintmax_t size) {
  const std::optional<Header> header = header_of(head_of(file));
  if (!header) {
    return "its header has no end: it is cut short or no PLY file";  // Assimp would search for ever
  }
  if (header->elements.empty() || header->bytes > size) {
    return std::nullopt;
  }
  double least = 0;
  double lines = 0;
  for (const Element& element : header->elements) {
    // The shortest number in text is a digit and what parts it from the next; the last needs
    // nothing.
    least += element.count * (header->form == Form::text
                                  ? 2 * static_cast<double>(element.properties.size())
                                  : element.least_bytes());
    lines += element.count;
  }
  const double there = static_cast<double>(size - header->bytes) + 1;
  if (!(least <= there)) {
    return too_short(declared_by(*header), fmt::format("{:.0f} bytes", least),
                     fmt::format("{}", size - header->bytes));
  }
  if (header->form == Form::text) {
    const Element& last = header->elements.back();
    const bool is_list = last.count > 0 && last.properties.size() == 1 && last.has_list();
    return missing_lines(file, header->bytes, lines, is_list, declared_by(*header));
  }
  Walker walker(file, *header, size);
  for (const Element& element : header->elements) {
    if (const double whole = walker.walk(element); whole < element.count) {
      return fmt::format(
          "its header declares {}, but of '{:.20}' only {:.0f} are there: it is cut short "
          "or damaged",
          declared_by(*header), element.name, whole);
    }
  }
  return std::nullopt;
}

}  // namespace standpoint
