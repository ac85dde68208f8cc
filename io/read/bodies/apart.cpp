#include "io/read/bodies/apart.h"

#include <new>

#include <fmt/format.h>

#if defined(__unix__) || defined(__APPLE__)
#define STANDPOINT_HAS_FORK 1
#include <fcntl.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>
#include <cerrno>
#include <csignal>
#include <cstdio>
#include <mutex>
#if defined(__linux__)
#include <sys/prctl.h>
#endif

#include "io/read/bodies/part_pipe.h"
#include "io/read/bodies/raw_body_pipe.h"
#endif

namespace standpoint {
namespace {

template <class Read>
using Outcome = tl::expected<Read, std::string>;

std::string too_much_memory(const ApartLimits& limits) {
  return fmt::format(
      "reading it takes more than the {:.1f} GB of memory allowed for a file of its size",
      static_cast<double>(limits.memory_bytes) / 1e9);
}

template <class Read>
Outcome<Read> run(const std::function<Outcome<Read>()>& work, const ApartLimits& limits) {
  try {
    return work();
  } catch (const std::bad_alloc&) {
    return tl::unexpected(too_much_memory(limits));
  }
}

#if defined(STANDPOINT_HAS_FORK)

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
constexpr bool kSanitized = true;
#else
constexpr bool kSanitized = false;
#endif

// A sanitized importer is some ten times slower.
constexpr std::uint64_t kSlowness = kSanitized ? 10 : 1;

// What the process holds of its address space now, bytes; 0 where the system does not tell.
std::uint64_t address_space_in_use() {
  std::uint64_t pages = 0;
  if (std::FILE* file = std::fopen("/proc/self/statm", "r")) {
    unsigned long first = 0;
    if (std::fscanf(file, "%lu", &first) == 1) {
      pages = first;
    }
    std::fclose(file);
  }
  return pages * static_cast<std::uint64_t>(::sysconf(_SC_PAGESIZE));
}

void hold_to(int resource, std::uint64_t amount) {
  rlimit limit{};
  if (::getrlimit(resource, &limit) == 0) {
    const auto wanted = static_cast<rlim_t>(amount);
    limit.rlim_cur = limit.rlim_max == RLIM_INFINITY ? wanted : std::min(wanted, limit.rlim_max);
    ::setrlimit(resource, &limit);
  }
}

// Importers print, and so does the C library when it stops a broken program.
void close_off_standard_streams() {
  const int nowhere = ::open("/dev/null", O_RDWR);
  if (nowhere >= 0) {
    for (const int stream : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO}) {
      ::dup2(nowhere, stream);
    }
  }
}

// noexcept: what escapes from an importer must end here, not unwind into the program's own frames,
// of which the child has a copy.
template <class Read>
[[noreturn]] void be_child(const std::function<Outcome<Read>()>& work, const ApartLimits& limits,
                           std::uint64_t memory_now, int pipe) noexcept {
#if defined(__linux__)
  ::prctl(PR_SET_PDEATHSIG, SIGKILL);
#endif
  for (const int signal :
       {SIGINT, SIGTERM, SIGHUP, SIGSEGV, SIGBUS, SIGFPE, SIGILL, SIGABRT, SIGPIPE, SIGXCPU}) {
    std::signal(signal, SIG_DFL);  // the program's own handlers mean the program
  }
  close_off_standard_streams();
  hold_to(RLIMIT_CORE, 0);
  hold_to(RLIMIT_CPU, limits.cpu_seconds * kSlowness);
  if (!kSanitized) {
    hold_to(RLIMIT_AS, memory_now + limits.memory_bytes);
  }
  const bool written = write_to_pipe(pipe, run(work, limits));
  ::_exit(written ? 0 : 1);  // no destructors: they belong to the parent
}

std::string why_it_ended(int status, const ApartLimits& limits) {
  if (!WIFSIGNALED(status)) {
    return "its importer stopped half-way; the file is likely damaged";
  }
  switch (WTERMSIG(status)) {
    case SIGXCPU:
      return fmt::format("reading it was given up after {} s of computing", limits.cpu_seconds);
    case SIGINT:
    case SIGTERM:
    case SIGHUP:
      return "reading it was interrupted";
    case SIGKILL:
      return "reading it was stopped by the system, likely for want of memory";
    default:
      return fmt::format("its importer crashed (signal {}); the file is likely damaged",
                         WTERMSIG(status));
  }
}

int wait_for(pid_t child) {
  int status = 0;
  while (::waitpid(child, &status, 0) < 0 && errno == EINTR) {
  }
  return status;
}

/// A child of another thread must not inherit the writing end: ours would then not be seen to end.
std::mutex& one_at_a_time() {
  static std::mutex mutex;
  return mutex;
}

FromPipe<RawBody> take_from(int pipe, const RawBody*) {
  return read_from_pipe(pipe);
}
FromPipe<ReadPart> take_from(int pipe, const ReadPart*) {
  return read_part_from_pipe(pipe);
}

template <class Read>
Outcome<Read> apart(const std::function<Outcome<Read>()>& work, const ApartLimits& limits) {
  int ends[2] = {-1, -1};
  pid_t child = -1;
  {
    const std::lock_guard lock(one_at_a_time());
    if (::pipe(ends) != 0) {
      return run(work, limits);
    }
    const std::uint64_t memory_now = address_space_in_use();
    child = ::fork();
    if (child == 0) {
      ::close(ends[0]);
      be_child(work, limits, memory_now, ends[1]);
    }
    ::close(ends[1]);
  }
  if (child < 0) {
    ::close(ends[0]);
    return run(work, limits);
  }
  FromPipe<Read> got = take_from(ends[0], static_cast<const Read*>(nullptr));
  ::close(ends[0]);
  const int status = wait_for(child);
  if (!got.is_whole) {
    return tl::unexpected(why_it_ended(status, limits));
  }
  return std::move(got.read);
}

#else

template <class Read>
Outcome<Read> apart(const std::function<Outcome<Read>()>& work, const ApartLimits& limits) {
  return run(work, limits);
}

#endif

}  // namespace

tl::expected<RawBody, std::string> read_apart(
    const std::function<tl::expected<RawBody, std::string>()>& work, const ApartLimits& limits) {
  return apart<RawBody>(work, limits);
}

tl::expected<ReadPart, std::string> read_part_apart(
    const std::function<tl::expected<ReadPart, std::string>()>& work, const ApartLimits& limits) {
  return apart<ReadPart>(work, limits);
}

}  // namespace standpoint
