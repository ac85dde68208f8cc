#pragma once

#include <cstddef>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "io/use/answered.h"
#include "io/use/attendant.h"
#include "io/use/request.h"
#include "io/use/start_kit.h"
#include "io/use/start_layout.h"
#include "planner/part/found_feature.h"

namespace standpoint {

/// What `start` writes: the scene, and beside it the list of features that are found.
inline constexpr const char* kSceneFile = "scene.json";
inline constexpr const char* kFeatureList = "features.csv";

/// Something that `start` decided without being told.
struct StartGuess {
  std::string pointer;  ///< JSON pointer to what it is about in the scene that is written
  std::string what;     ///< one or two sentences
  std::string change;   ///< how to change it: what to put there
};

/// A body of the scene that `start` writes.
struct StartPart {
  std::string name;
  std::string mesh;  ///< its path from the scene's folder
};

/// The scene that `start` writes, and what it guessed. What the hall file has already is left out:
/// two of a thing would be one too many.
struct StartScene {
  std::string name;
  std::optional<std::string> hall;  ///< path from the scene's folder, to be included
  std::vector<StartPart> parts;
  Footing footing;
  StartKit kit;
  Layout layout;
  bool has_floor = true, has_instrument = true, has_targets = true, has_nest_sites = true,
       has_zones = true;
  std::vector<std::size_t> unit_guessed;  ///< parts whose files state no unit: mm was taken
  std::string feature_list;               ///< path from the scene's folder
  /// What goes into `feature_list`; empty where the list is the user's own file. In the part's
  /// frame.
  std::vector<FoundFeature> features;
  std::vector<StartGuess> guesses;  ///< in the order of the scene's lines
};

/// Reads the parts, finds what can be measured on them, and lays a scene round them. Faults: of the
/// parts' files, the hall file and the list; where nothing that a scene can hold is found.
[[nodiscard]] Answered<StartScene> start_scene(const Request& request, const Attendant& attendant);

}  // namespace standpoint
