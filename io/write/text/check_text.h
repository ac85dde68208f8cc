#pragma once

#include <iosfwd>
#include <string>
#include <vector>

#include "io/read/scene/parse_scene.h"
#include "planner/traps/scene_traps.h"

namespace standpoint {

/// What is worth knowing about a valid scene, in sentences: open or defective meshes, units that
/// nobody stated, and parts of the job that cannot be done with it. Order: bodies, then scene.
[[nodiscard]] std::vector<std::string> check_remarks(const SceneFile& read);

/// What the scene holds, counted: "8 features (6 points, 2 holes), 2 targets, ...", one sentence.
[[nodiscard]] std::string check_counts(const Scene& scene);

/// The object that `check --json` prints, ending with a newline. `traps` are those of the scene.
[[nodiscard]] std::string check_json(const SceneFile& read, const std::vector<Trap>& traps = {});

/// Of one kind of trap at most so many are told to people one by one.
inline constexpr std::size_t kMostTrapsTold = 5;

/// The same for people.
void print_check(const SceneFile& read, std::ostream& out, const std::vector<Trap>& traps = {});

}  // namespace standpoint
