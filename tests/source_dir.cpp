#include "source_dir.h"

namespace standpoint {

std::filesystem::path source_dir() {
  return STANDPOINT_SOURCE_DIR;
}

}  // namespace standpoint
