#pragma once

#include <cstdint>
#include <functional>
#include <string>

#include <tl/expected.hpp>

#include "io/read/cad/cad_faces.h"
#include "io/read/meshes/raw_body.h"

namespace standpoint {

/// What an importer may use up before it is stopped.
struct ApartLimits {
  std::uint64_t memory_bytes = 0;  ///< beyond what the program holds already
  std::uint64_t cpu_seconds = 0;   ///< of processor time
};

/// Runs an importer apart from the program, so that a crash, an endless loop or a memory bomb in it
/// becomes an error here.
///
/// Where there is fork() (POSIX), `work` runs in a child process that is held to `limits`, has its
/// standard streams closed off, and hands the body back through a pipe; the memory it needed is
/// free again when it ends. Elsewhere, and where no process can be started, `work` runs here,
/// without limits. Under a sanitizer the memory limit is left out, because its shadow memory would
/// exceed any.
///
/// `work` must not throw except std::bad_alloc, which becomes the error that the limit gives. The
/// error is one plain sentence. Safe from several threads at once; the child has only the calling
/// thread, so that `work` must not wait for others and must not use what they may hold locked.
[[nodiscard]] tl::expected<RawBody, std::string> read_apart(
    const std::function<tl::expected<RawBody, std::string>()>& work, const ApartLimits& limits);

/// The same for a part as its faces.
[[nodiscard]] tl::expected<ReadPart, std::string> read_part_apart(
    const std::function<tl::expected<ReadPart, std::string>()>& work, const ApartLimits& limits);

}  // namespace standpoint
