#pragma once

#include <array>
#include <cstddef>
#include <string_view>

#include "io/read/scene/read_values.h"

namespace standpoint {

// What all readers of written plans share.

/// What `format` may say: a plan, or the choice of nests that holds one.
inline constexpr std::array<std::string_view, 2> kPlanFormats{"standpoint-plan",
                                                              "standpoint-nests"};

/// A key whose value may be null: then it is as if it were not there.
[[nodiscard]] inline Cursor non_null(Cursor at) {
  if (at.value != nullptr && at.value->as<std::nullptr_t>() != nullptr) at.value = nullptr;
  return at;
}

}  // namespace standpoint
