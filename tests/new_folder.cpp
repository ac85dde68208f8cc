#include "new_folder.h"

#include <unistd.h>

#include <atomic>
#include <string>
#include <system_error>

namespace standpoint {

Folder::Folder() {
  static std::atomic<int> number = 0;
  path_ = std::filesystem::temp_directory_path() /
          ("standpoint-test-" + std::to_string(getpid()) + "-" + std::to_string(number++));
  std::filesystem::create_directories(path_);
}

Folder::~Folder() {
  std::error_code ignored;
  std::filesystem::remove_all(path_, ignored);
}

}  // namespace standpoint
