#pragma once

#include <string>

#include <tl/expected.hpp>

#include "io/read/bodies/from_pipe.h"
#include "io/read/cad/cad_faces.h"

namespace standpoint {

/// Writes a part as its faces, or the sentence why there is none, to a pipe, as read_part_from_pipe
/// takes it. Bytes are this machine's own. False where the other end is gone.
[[nodiscard]] bool write_to_pipe(int pipe, const tl::expected<ReadPart, std::string>& part);

/// Reads what write_to_pipe wrote. Sizes that no memory holds, and indices and choices out of
/// range, count as not whole: the writer may have died with its memory in disorder.
[[nodiscard]] FromPipe<ReadPart> read_part_from_pipe(int pipe);

}  // namespace standpoint
