#include "io/read/files/unpacked_scene.h"

#include <algorithm>
#include <cctype>
#include <cerrno>
#include <cstdlib>
#include <fstream>
#include <optional>
#include <set>
#include <string>
#include <system_error>
#include <vector>

#include <fmt/format.h>
#include <minizip/unzip.h>

#include "io/words/text.h"

namespace standpoint {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view kScene = "scene.json";
constexpr std::uint64_t kMiB = std::uint64_t{1} << 20U;

struct Entry {
  std::string name;
  unz_file_info64 info{};
  unz64_file_pos place{};
};

/// The archive, closed with the object.
class Archive {
 public:
  explicit Archive(const fs::path& file) : file_(unzOpen64(file.c_str())) {}
  ~Archive() {
    if (file_ != nullptr) unzClose(file_);
  }
  Archive(const Archive&) = delete;
  Archive& operator=(const Archive&) = delete;
  [[nodiscard]] unzFile get() const { return file_; }

 private:
  unzFile file_;
};

[[noreturn]] void cannot_write(const fs::path& path, int error) {
  throw fs::filesystem_error("cannot unpack into", path,
                             std::error_code(error, std::generic_category()));
}

/// Everything that is wrong with the entries, before any is unpacked.
class Judge {
 public:
  Judge(std::string shown, const UnpackLimits& limits)
      : shown_(std::move(shown)), limits_(limits) {}

  void look_at(const std::vector<Entry>& entries, std::uint64_t file_bytes) {
    for (const Entry& entry : entries) look_at(entry);
    for (const std::string& name : names_) look_at_folders(name);
    if (names_.count(std::string(kScene)) == 0) no_scene();
    const std::uint64_t most =
        std::min(limits_.bytes, limits_.free_bytes + limits_.ratio * file_bytes);
    if (total_ > most) {
      tell("", fmt::format("{} MiB, unpacked", total_ / kMiB),
           fmt::format("at most {} MiB in a zip file of its size", most / kMiB));
    }
  }

  void tell(const std::string& entry, std::string value, std::string allowed,
            std::string nearest = "") {
    faults_.push_back({entry.empty() ? shown_ : shown_ + "/" + entry, std::move(value),
                       std::move(allowed), FaultKind::file_unreadable, std::move(nearest)});
  }

  [[nodiscard]] Faults take() { return std::move(faults_); }

 private:
  void look_at(const Entry& entry) {
    total_ += entry.info.uncompressed_size;
    if (const std::string defect = name_defect(entry.name); !defect.empty()) {
      tell(well_formed(entry.name), defect, "a path inside the zip file, parts apart by '/'");
      return;
    }
    if (entry.name.back() == '/') return;
    if (!names_.insert(entry.name).second)
      tell(entry.name, "an entry that is there twice", "each entry once");
    constexpr uLong kEncrypted = 1, kStored = 0, kDeflated = 8;
    if ((entry.info.flag & kEncrypted) != 0)
      tell(entry.name, "an encrypted entry", "a zip file without a password");
    if (entry.info.compression_method != kStored && entry.info.compression_method != kDeflated) {
      tell(entry.name, fmt::format("compression method {}", entry.info.compression_method),
           "an entry that is stored or deflated");
    }
    constexpr uLong kTypeOfFile = 0170000, kLink = 0120000, kUnix = 3;
    if (entry.info.version >> 8U == kUnix &&
        ((entry.info.external_fa >> 16U) & kTypeOfFile) == kLink)
      tell(entry.name, "a link", "a file");
  }

  /// A file cannot be a folder as well.
  void look_at_folders(const std::string& name) {
    for (std::size_t slash = name.find('/'); slash != std::string::npos;
         slash = name.find('/', slash + 1)) {
      if (names_.count(name.substr(0, slash)) > 0)
        tell(name, "an entry inside of another file", "a path inside the zip file");
    }
  }

  void no_scene() {
    std::string nearest;
    for (const std::string& name : names_) {
      const std::string ending = "/" + std::string(kScene);
      if (nearest.empty() && name.size() > ending.size() &&
          name.compare(name.size() - ending.size(), ending.size(), ending) == 0)
        nearest = name;
    }
    tell(std::string(kScene), "", "the scene file, at the root of the zip file", nearest);
  }

  /// What is wrong with an entry's name, in plain words; empty where nothing is.
  static std::string name_defect(const std::string& name) {
    if (name.empty()) return "an entry without a name";
    if (well_formed(name) != name) return "a name that is not UTF-8";
    if (name.front() == '/' || name.find('\\') != std::string::npos ||
        (name.size() > 1 && name[1] == ':'))
      return "a path that does not begin in the zip file";
    for (const char c : name) {
      const auto byte = static_cast<unsigned char>(c);
      if (byte < 0x20U || byte == 0x7FU) return "a name with control characters";
    }
    for (std::size_t begin = 0; begin < name.size();) {
      const std::size_t end = std::min(name.find('/', begin), name.size());
      const std::string part = name.substr(begin, end - begin);
      if (part.empty() || part == "." || part == "..") return "a path that leads out of it";
      begin = end + 1;
    }
    return "";
  }

  std::string shown_;
  UnpackLimits limits_;
  std::set<std::string> names_;
  std::uint64_t total_ = 0;
  Faults faults_;
};

/// The archive's table; nothing where it is damaged.
std::optional<std::vector<Entry>> table_of(const Archive& archive, std::size_t most) {
  std::vector<Entry> entries;
  int at = unzGoToFirstFile(archive.get());
  unz_global_info64 all{};
  if (unzGetGlobalInfo64(archive.get(), &all) != UNZ_OK) return std::nullopt;
  if (all.number_entry == 0) return entries;
  for (; at == UNZ_OK && entries.size() <= most; at = unzGoToNextFile(archive.get())) {
    Entry entry;
    if (unzGetCurrentFileInfo64(archive.get(), &entry.info, nullptr, 0, nullptr, 0, nullptr, 0) !=
        UNZ_OK)
      return std::nullopt;
    entry.name.resize(entry.info.size_filename);
    if (unzGetCurrentFileInfo64(archive.get(), nullptr, entry.name.data(), entry.name.size(),
                                nullptr, 0, nullptr, 0) != UNZ_OK ||
        unzGetFilePos64(archive.get(), &entry.place) != UNZ_OK)
      return std::nullopt;
    entries.push_back(std::move(entry));
  }
  if (at != UNZ_OK && at != UNZ_END_OF_LIST_OF_FILE) return std::nullopt;
  return entries;
}

/// Whether the entry came out whole: as long as its table says, with the right check sum.
bool unpack(const Archive& archive, const Entry& entry, const fs::path& into) {
  unz64_file_pos place = entry.place;
  if (unzGoToFilePos64(archive.get(), &place) != UNZ_OK ||
      unzOpenCurrentFile(archive.get()) != UNZ_OK)
    return false;
  fs::create_directories(into.parent_path());
  errno = 0;
  std::ofstream out(into, std::ios::binary);
  std::vector<char> piece(kMiB);
  std::uint64_t bytes = 0;
  int got = 0;
  while (out && (got = unzReadCurrentFile(archive.get(), piece.data(),
                                          static_cast<unsigned>(piece.size()))) > 0) {
    bytes += static_cast<std::uint64_t>(got);
    out.write(piece.data(), got);
  }
  out.close();
  const bool is_written = static_cast<bool>(out);
  const int error = errno != 0 ? errno : EIO;
  const bool is_sound = unzCloseCurrentFile(archive.get()) == UNZ_OK && got == 0 &&
                        bytes == entry.info.uncompressed_size;
  if (!is_written) cannot_write(into, error);
  return is_sound;
}

fs::path new_folder() {
  std::string name = (fs::temp_directory_path() / "standpoint-XXXXXX").string();
  if (::mkdtemp(name.data()) == nullptr) cannot_write(name, errno);
  return name;
}

std::string lower_case_of(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return text;
}

}  // namespace

UnpackedScene::~UnpackedScene() {
  std::error_code ignored;
  if (!folder_.empty()) fs::remove_all(folder_, ignored);
}

UnpackedScene::UnpackedScene(UnpackedScene&& other) noexcept : folder_(std::move(other.folder_)) {
  other.folder_.clear();
}

bool is_packed_scene(const fs::path& file) {
  std::error_code error;
  // A pipe can be read but once.
  if (!fs::is_regular_file(file, error)) return false;
  if (lower_case_of(file.extension().string()) == ".zip") return true;
  std::string head(4, '\0');
  std::ifstream(file, std::ios::binary).read(head.data(), 4);
  return head == "PK\x03\x04";
}

tl::expected<UnpackedScene, Faults> unpack_scene(const fs::path& file, const UnpackLimits& limits) {
  Judge judge(file.string(), limits);
  const Archive archive(file);
  const std::string expected = "a scene in a zip file that can be read";
  const auto entries = archive.get() != nullptr ? table_of(archive, limits.entries) : std::nullopt;
  std::error_code error;
  if (!entries) {
    judge.tell("", "a file that is no zip file, or a damaged one", expected);
  } else if (entries->size() > limits.entries) {
    judge.tell("", "more entries", fmt::format("a zip file of at most {} entries", limits.entries));
  } else {
    judge.look_at(*entries, fs::file_size(file, error));
  }
  if (Faults faults = judge.take(); !faults.empty()) return tl::unexpected(std::move(faults));

  UnpackedScene unpacked(new_folder());
  for (const Entry& entry : *entries) {
    const fs::path into =
        unpacked.folder() / fs::path(std::u8string(entry.name.begin(), entry.name.end()));
    if (entry.name.back() != '/' && !unpack(archive, entry, into))
      judge.tell(entry.name, "a damaged entry", expected);
  }
  if (Faults faults = judge.take(); !faults.empty()) return tl::unexpected(std::move(faults));
  return unpacked;
}

}  // namespace standpoint
