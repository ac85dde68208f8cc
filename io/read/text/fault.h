#pragma once

#include <string_view>

#include "standpoint/faults.h"

namespace standpoint {

/// The kind's stable word, such as "unknown-key". O(1).
[[nodiscard]] std::string_view fault_word(FaultKind kind);

/// What the kind expects, a format string of fmt whose arguments `FaultSink::add` fills in. O(1).
[[nodiscard]] std::string_view fault_expected(FaultKind kind);

/// What people read as got where the value itself does not tell what is wrong: "an unknown key";
/// empty where it does. O(1).
[[nodiscard]] std::string_view fault_got(FaultKind kind);

}  // namespace standpoint
