#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "io/read/scene/parse_scene.h"
#include "planner/traps/scene_traps.h"

namespace standpoint {

/// A kind of trap as programs read it: "misplaced-part".
[[nodiscard]] std::string_view trap_name(Trap::Kind kind);

/// Where the entry stands that is to be changed, as faults tell it: "/bodies/2", "points.csv:4".
[[nodiscard]] std::string trap_place(const SceneFile& read, const Trap& trap);

/// What is odd, how much, and what to change, in two or three sentences. Names as the scene has
/// them.
[[nodiscard]] std::string trap_sentences(const SceneFile& read, const Trap& trap);

/// All traps in sentences, in their order; of one kind at most `most`, and then how many more.
[[nodiscard]] std::vector<std::string> trap_list(const SceneFile& read,
                                                 const std::vector<Trap>& traps, std::size_t most);

}  // namespace standpoint
