#include "io/write/files/write_files.h"

#include <cerrno>
#include <cstring>
#include <system_error>

#include <fcntl.h>
#include <unistd.h>

#include <fmt/format.h>

namespace standpoint {
namespace {

namespace fs = std::filesystem;

std::string reason(int error) {
  return std::generic_category().message(error);
}

std::string cannot(std::string_view what, const fs::path& path, const std::string& why) {
  return fmt::format("cannot {} {}: {}", what, path.string(), why);
}

/// Creates or empties nothing: fails where `path` exists. 0 or an errno.
int write_new(const fs::path& path, const std::string& bytes) {
  const int file = ::open(path.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
  if (file < 0) return errno;
  int error = 0;
  for (std::size_t done = 0; done < bytes.size() && error == 0;) {
    const ssize_t n = ::write(file, bytes.data() + done, bytes.size() - done);
    if (n >= 0) {
      done += static_cast<std::size_t>(n);
    } else if (errno != EINTR) {
      error = errno;
    }
  }
  // A full disk may only show up when the data are flushed.
  if (error == 0 && ::fsync(file) != 0 && errno != EINVAL) error = errno;
  if (::close(file) != 0 && error == 0) error = errno;
  return error;
}

/// Folders made on the way, and what is needed to undo everything.
class Transaction {
 public:
  explicit Transaction(fs::path folder) : folder_(std::move(folder)) {}
  Transaction(const Transaction&) = delete;
  Transaction& operator=(const Transaction&) = delete;
  ~Transaction() {
    if (!is_kept_) undo();
    for (const Entry& entry : entries_) {
      remove(entry.temporary);
      remove(entry.previous);
    }
    if (is_kept_) return;
    std::error_code ignored;
    for (auto made = made_.rbegin(); made != made_.rend(); ++made) fs::remove(*made, ignored);
  }

  std::optional<std::string> make_folder() {
    std::vector<fs::path> missing;
    std::error_code error;
    for (fs::path p = folder_; !p.empty() && !fs::exists(p, error); p = p.parent_path())
      missing.push_back(p);
    for (auto p = missing.rbegin(); p != missing.rend(); ++p) {
      // "a/b/" lists "a/b/" and "a/b": the second creation finds the first.
      if (fs::create_directory(*p, error)) made_.push_back(*p);
      if (error) return cannot("create the folder", *p, error.message());
    }
    if (!fs::is_directory(folder_, error))
      return cannot("write into", folder_, "it is not a folder");
    return std::nullopt;
  }

  std::optional<std::string> write(const OutFile& file) {
    Entry entry;
    entry.place = folder_ / file.name;
    // The process id keeps two runs into one folder apart.
    entry.temporary = folder_ / fmt::format(".{}.{}.part", file.name, ::getpid());
    entry.previous = folder_ / fmt::format(".{}.{}.previous", file.name, ::getpid());
    std::error_code error;
    const fs::file_status status = fs::symlink_status(entry.place, error);
    entry.has_previous = fs::exists(status);
    if (fs::is_directory(status)) return cannot("replace", entry.place, "it is a folder");
    remove(entry.temporary);
    entries_.push_back(entry);
    if (const int failed = write_new(entry.temporary, file.bytes))
      return cannot("write", entry.place, reason(failed));
    return std::nullopt;
  }

  std::optional<std::string> put_in_place() {
    for (Entry& entry : entries_) {
      if (entry.has_previous && !keep_previous(entry))
        return cannot("replace", entry.place, "its present content cannot be kept aside");
      if (::rename(entry.temporary.c_str(), entry.place.c_str()) != 0)
        return cannot("replace", entry.place, reason(errno));
      entry.is_replaced = true;
    }
    is_kept_ = true;
    return std::nullopt;
  }

 private:
  struct Entry {
    fs::path place, temporary, previous;
    bool has_previous = false;
    bool is_replaced = false;
  };

  static void remove(const fs::path& path) {
    std::error_code ignored;
    fs::remove(path, ignored);
  }

  /// A second name for the old file, so that it can come back; a copy where the file system has no
  /// hard links.
  static bool keep_previous(const Entry& entry) {
    std::error_code error;
    remove(entry.previous);
    fs::create_hard_link(entry.place, entry.previous, error);
    if (!error) return true;
    fs::copy(entry.place, entry.previous, fs::copy_options::copy_symlinks, error);
    return !error;
  }

  void undo() {
    std::error_code ignored;
    for (const Entry& entry : entries_) {
      if (!entry.is_replaced) continue;
      if (entry.has_previous) {
        fs::rename(entry.previous, entry.place, ignored);
      } else {
        remove(entry.place);
      }
    }
  }

  fs::path folder_;
  std::vector<Entry> entries_;
  std::vector<fs::path> made_;
  bool is_kept_ = false;
};

}  // namespace

std::optional<std::string> why_unwritable(const fs::path& folder) {
  std::error_code error;
  fs::path nearest = folder.empty() ? fs::path(".") : fs::absolute(folder, error);
  while (!fs::exists(nearest, error) && nearest.has_parent_path() &&
         nearest != nearest.parent_path()) {
    // Not found is what is climbed over; "not a directory" and the like are found further up.
    nearest = nearest.parent_path();
  }
  if (!fs::is_directory(nearest, error))
    return cannot("write into", folder, nearest.string() + " is not a folder");
  if (::access(nearest.c_str(), W_OK | X_OK) != 0)
    return cannot("write into", folder, reason(errno));
  return std::nullopt;
}

std::optional<std::string> write_together(const fs::path& folder,
                                          const std::vector<OutFile>& files) {
  Transaction transaction(folder);
  if (auto error = transaction.make_folder()) return error;
  for (const OutFile& file : files) {
    if (auto error = transaction.write(file)) return error;
  }
  return transaction.put_in_place();
}

}  // namespace standpoint
