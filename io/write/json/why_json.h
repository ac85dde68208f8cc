#pragma once

#include <string>

#include "io/use/ask_why.h"

namespace standpoint {

/// The diagnosis as one JSON object, format "standpoint-why" (docs/why.md); with "measured" where
/// the place was measured (docs/measured.md), and "plan" where one was given.
[[nodiscard]] std::string why_json(const WhyAnswer& answer);

}  // namespace standpoint
