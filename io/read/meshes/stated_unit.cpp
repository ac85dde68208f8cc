#include "io/read/meshes/stated_unit.h"

#include <algorithm>
#include <fstream>
#include <memory>
#include <string>
#include <utility>

#include <minizip/unzip.h>

namespace standpoint {
namespace {

constexpr std::size_t kHeadBytes = 65536;

std::string head_of_plain(const std::filesystem::path& file) {
  std::ifstream in(file, std::ios::binary);
  std::string head(kHeadBytes, '\0');
  in.read(head.data(), static_cast<std::streamsize>(head.size()));
  head.resize(static_cast<std::size_t>(std::max<std::streamsize>(in.gcount(), 0)));
  return head;
}

std::string head_of_zipped(const std::filesystem::path& file) {
  const unzFile archive = unzOpen64(file.c_str());
  if (archive == nullptr) {
    return {};
  }
  std::string head;
  for (int at = unzGoToFirstFile(archive); at == UNZ_OK; at = unzGoToNextFile(archive)) {
    std::string name(512, '\0');
    unzGetCurrentFileInfo64(archive, nullptr, name.data(), name.size() - 1, nullptr, 0, nullptr, 0);
    name.resize(name.find('\0'));
    if ((name.ends_with(".model") || name.ends_with(".amf")) &&
        unzOpenCurrentFile(archive) == UNZ_OK) {
      head.resize(kHeadBytes);
      const int got = unzReadCurrentFile(archive, head.data(), static_cast<unsigned>(head.size()));
      head.resize(static_cast<std::size_t>(std::max(got, 0)));
      break;
    }
  }
  unzClose(archive);
  return head;
}

/// The value of attribute `unit` in the start tag of `element`; empty where there is none.
std::optional<std::string> unit_attribute(const std::string& text, const std::string& element) {
  const std::size_t tag = text.find("<" + element);
  const std::size_t end = tag == std::string::npos ? tag : text.find('>', tag);
  if (end == std::string::npos) {
    return std::nullopt;
  }
  const std::string start = text.substr(tag, end - tag);
  const std::size_t name = start.find(" unit=");
  if (name == std::string::npos) {
    return std::string();
  }
  const std::size_t open = name + 6;
  const std::size_t close = start.find(start[open], open + 1);
  return start.substr(open + 1, close == std::string::npos ? close : close - open - 1);
}

}  // namespace

std::optional<double> stated_unit_of_print_file(const std::filesystem::path& file) {
  std::string text = head_of_plain(file);
  if (text.starts_with("PK")) {
    text = head_of_zipped(file);
  }
  for (const char* element : {"model", "amf"}) {
    if (const auto unit = unit_attribute(text, element)) {
      static const std::pair<const char*, double> kUnits[] = {
          {"", 1},        {"micron", 0.001}, {"millimeter", 1}, {"centimeter", 10},
          {"inch", 25.4}, {"foot", 304.8},   {"feet", 304.8},   {"meter", 1000}};
      const auto* known = std::find_if(std::begin(kUnits), std::end(kUnits),
                                       [&](const auto& u) { return *unit == u.first; });
      return known == std::end(kUnits) ? std::nullopt : std::optional(known->second);
    }
  }
  return std::nullopt;
}

}  // namespace standpoint
