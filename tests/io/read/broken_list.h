#pragma once

#include <string>
#include <vector>

#include "io/read/lists/list_table.h"
#include "io/read/text/fault_text.h"

namespace standpoint::test {

/// A text that is wrong in one way.
struct Broken {
  const char* what;
  std::string text;
  std::vector<std::string> told;  ///< every line, as people read it
};

inline std::vector<std::string> lines_of(const Faults& faults) {
  std::vector<std::string> lines;
  for (const Fault& fault : faults) lines.push_back(fault_words(fault));
  return lines;
}

/// A list "p.csv" in a scene in mm.
inline ListOptions in_mm() {
  ListOptions options;
  options.file = "p.csv";
  options.default_units = "mm";
  return options;
}

}  // namespace standpoint::test
