#pragma once

#include <string>

#include <tl/expected.hpp>

#include "io/read/bodies/from_pipe.h"
#include "io/read/meshes/raw_body.h"

namespace standpoint {

/// Writes a body, or the sentence why there is none, to a pipe, as read_from_pipe takes it. Bytes
/// are this machine's own. False where the other end is gone.
[[nodiscard]] bool write_to_pipe(int pipe, const tl::expected<RawBody, std::string>& body);

/// Reads what write_to_pipe wrote. Sizes that no memory holds, and indices out of range, count as
/// not whole: the writer may have died with its memory in disorder.
[[nodiscard]] FromPipe<RawBody> read_from_pipe(int pipe);

}  // namespace standpoint
