#pragma once

#include <iosfwd>
#include <string>
#include <vector>

#include "io/read/scene/parse_scene.h"

namespace standpoint {

/// What is worth knowing about a valid scene, in sentences: open or defective meshes, units that
/// nobody stated, and parts of the job that cannot be done with it. Order: bodies, then scene.
[[nodiscard]] std::vector<std::string> check_remarks(const SceneFile& read);

/// The object that `check --json` prints, ending with a newline.
[[nodiscard]] std::string check_json(const SceneFile& read);

/// The same for people.
void print_check(const SceneFile& read, std::ostream& out);

}  // namespace standpoint
