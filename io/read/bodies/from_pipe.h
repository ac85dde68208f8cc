#pragma once

#include <string>

#include <tl/expected.hpp>

namespace standpoint {

/// What came through a pipe.
template <class Read>
struct FromPipe {
  bool is_whole = false;  ///< false where the writer ended before it had written everything
  tl::expected<Read, std::string> read;
};

}  // namespace standpoint
