#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include <sys/types.h>

#include "new_folder.h"

namespace standpoint::process {

/// The finished command, started with a terminal as its standard error, so that it shows how far it
/// is. Standard output goes nowhere. One thread.
class Process {
 public:
  explicit Process(const std::vector<std::string>& arguments);
  ~Process();  ///< kills it if it still runs
  Process(const Process&) = delete;
  Process& operator=(const Process&) = delete;

  /// Reads what it shows until `words` appear; false when it ended before.
  [[nodiscard]] bool shows(const std::string& words);
  /// Stops it where it is, by SIGSTOP; false when it had ended by then.
  [[nodiscard]] bool halt();
  /// Sends a signal.
  void send(int signal) const;
  /// Lets a stopped process go on.
  void go_on() const;
  /// Waits for its end. The exit status; nothing when a signal killed it.
  [[nodiscard]] std::optional<int> wait();
  /// All it has shown up to now, read from the terminal.
  [[nodiscard]] const std::string& shown() const { return shown_; }

 private:
  bool read_some(bool waits);
  void note_end(int status);

  pid_t pid_ = -1;
  int terminal_ = -1;
  std::string shown_;
  bool has_ended_ = false;
  std::optional<int> status_;
};

[[nodiscard]] std::string bytes_of(const std::filesystem::path& file);

}  // namespace standpoint::process
