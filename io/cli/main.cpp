#include <atomic>
#include <csignal>
#include <iostream>
#include <string>
#include <vector>

#include <unistd.h>

#include "io/cli/console.h"
#include "io/cli/run.h"

namespace {

std::atomic<bool> interrupted{false};
static_assert(std::atomic<bool>::is_always_lock_free, "set from a signal handler");

/// The first signal asks the job to end by itself. A second one, from someone who waits no longer,
/// ends at once: finished files are never half written (they are renamed into place), at most a
/// temporary one stays behind.
void on_signal(int) {
  if (interrupted.exchange(true)) _exit(static_cast<int>(standpoint::Exit::failed));
}

}  // namespace

int main(int argc, char** argv) {
  std::ios::sync_with_stdio(false);
  std::signal(SIGINT, on_signal);
  std::signal(SIGTERM, on_signal);
  const standpoint::Console console{std::cout, std::cerr, isatty(STDERR_FILENO) == 1, &interrupted};
  return static_cast<int>(
      standpoint::run(std::vector<std::string>(argv + 1, argv + argc), console));
}
