#pragma once

#include <string>

#include <tl/expected.hpp>

#include "io/read/text/fault.h"

namespace standpoint {

/// Why a use case has no answer.
struct NoAnswer {
  Faults faults;       ///< what is wrong with the input; empty where nothing is
  std::string reason;  ///< otherwise: which resource failed, as one sentence without its full stop
};

/// The answer of a use case, or why there is none.
template <class Answer>
using Answered = tl::expected<Answer, NoAnswer>;

[[nodiscard]] inline tl::unexpected<NoAnswer> wrong_input(Faults faults) {
  return tl::unexpected(NoAnswer{std::move(faults), {}});
}
[[nodiscard]] inline tl::unexpected<NoAnswer> interrupted() {
  return tl::unexpected(NoAnswer{{}, "interrupted"});
}

}  // namespace standpoint
