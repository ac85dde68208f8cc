#pragma once

#include <functional>
#include <string>

#include "standpoint/plan.h"

namespace standpoint {

/// Whoever waits for a use case: is told what is being done, and may call it off.
struct Attendant {
  std::function<void(const std::string& what)> say = [](const std::string&) {};
  Watch watch;
};

}  // namespace standpoint
