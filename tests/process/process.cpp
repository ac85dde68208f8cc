#include "process.h"

#include <cerrno>
#include <csignal>
#include <cstdlib>
#include <fstream>
#include <sstream>
#include <stdexcept>

#include <fcntl.h>
#include <poll.h>
#include <sys/wait.h>
#include <unistd.h>

namespace standpoint::process {
namespace {

/// In the child: the terminal's other end becomes its standard error; then the program.
[[noreturn]] void become_program(const char* terminal, std::vector<char*>& words) {
  const int err = open(terminal, O_RDWR | O_NOCTTY);
  const int nowhere = open("/dev/null", O_RDWR);
  if (err < 0 || nowhere < 0) _exit(126);
  dup2(nowhere, STDIN_FILENO);
  dup2(nowhere, STDOUT_FILENO);
  dup2(err, STDERR_FILENO);
  execv(words[0], words.data());
  _exit(127);
}

}  // namespace

Process::Process(const std::vector<std::string>& arguments) {
  terminal_ = posix_openpt(O_RDWR | O_NOCTTY | O_CLOEXEC);
  if (terminal_ < 0 || grantpt(terminal_) != 0 || unlockpt(terminal_) != 0)
    throw std::runtime_error("no terminal can be made here");
  const std::string other_end = ptsname(terminal_);
  std::vector<std::string> all = {STANDPOINT_PROGRAM};
  all.insert(all.end(), arguments.begin(), arguments.end());
  std::vector<char*> words;
  for (std::string& word : all) words.push_back(word.data());
  words.push_back(nullptr);
  pid_ = fork();
  if (pid_ == 0) become_program(other_end.c_str(), words);
  if (pid_ < 0) throw std::runtime_error("no process can be made here");
}

Process::~Process() {
  if (!has_ended_) {
    kill(pid_, SIGKILL);
    waitpid(pid_, nullptr, 0);
  }
  close(terminal_);
}

/// Reading fails with EIO once the other end is closed, or before the child has opened it: the
/// second is told from the first by whether the child has ended.
bool Process::read_some(bool waits) {
  for (;;) {
    pollfd ready{terminal_, POLLIN, 0};
    if (poll(&ready, 1, waits ? 50 : 0) > 0 && (ready.revents & POLLIN) != 0) {
      char buffer[4096];
      const ssize_t count = read(terminal_, buffer, sizeof buffer);
      if (count > 0) {
        shown_.append(buffer, static_cast<std::size_t>(count));
        return true;
      }
    }
    if (!waits) return false;
    int status = 0;
    if (!has_ended_ && waitpid(pid_, &status, WNOHANG) == pid_) note_end(status);
    if (has_ended_) waits = false;  // what it showed last may still be there
  }
}

void Process::note_end(int status) {
  has_ended_ = true;
  if (WIFEXITED(status)) status_ = WEXITSTATUS(status);
}

bool Process::shows(const std::string& words) {
  while (shown_.find(words) == std::string::npos) {
    if (!read_some(true)) return false;
  }
  return true;
}

bool Process::halt() {
  if (has_ended_) return false;
  kill(pid_, SIGSTOP);
  int status = 0;
  if (waitpid(pid_, &status, WUNTRACED) == pid_ && !WIFSTOPPED(status)) note_end(status);
  while (read_some(false)) {
  }
  return !has_ended_;
}

void Process::send(int signal) const {
  kill(pid_, signal);
}

void Process::go_on() const {
  kill(pid_, SIGCONT);
}

std::optional<int> Process::wait() {
  while (read_some(true)) {
  }
  return status_;
}

std::string bytes_of(const std::filesystem::path& file) {
  std::ostringstream bytes;
  bytes << std::ifstream(file, std::ios::binary).rdbuf();
  return bytes.str();
}

}  // namespace standpoint::process
