#pragma once

#include <string>
#include <vector>

namespace standpoint {

/// One thing wrong with the input.
struct Fault {
  std::string where;    ///< JSON pointer ("/features/3/normal"), or a file's path
  std::string value;    ///< what stands there, as JSON text, shortened
  std::string allowed;  ///< what is allowed, or what is wrong, in plain words
};

using Faults = std::vector<Fault>;

}  // namespace standpoint
