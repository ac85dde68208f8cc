#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <tl/expected.hpp>

#include "io/read/bodies/body_reader.h"
#include "io/read/text/fault.h"
#include "standpoint/scene.h"

namespace standpoint {

/// What a scene file gave: the scene, its bodies' surfaces, and what their files are like.
struct SceneFile {
  Scene scene;
  Meshes meshes;                   ///< for each body
  std::vector<BodyReport> bodies;  ///< for each body
  /// Where each body and each feature stands, as faults tell it: "/bodies/2",
  /// "hall.json#/bodies/0", "points.csv:4".
  std::vector<std::string> body_places, feature_places;
};

/// Gives the mesh a request names, or one plain sentence why not: `read_body`, or a stand-in.
using BodyLoader = std::function<tl::expected<ReadBody, std::string>(const BodyRequest&)>;

/// A list of features or nests that a scene names.
struct ListRequest {
  std::filesystem::path file;
  std::string shown;                 ///< how faults call the file
  std::optional<std::string> units;  ///< as the scene states them for this list; of `kUnitNames`
  std::string default_units;         ///< where neither it nor the list states any
};

/// What a list gave, in its order, each with its place in the file ("points.csv:4").
template <class Entry>
struct ReadList {
  std::vector<Entry> entries;
  std::vector<std::string> places;  ///< for each entry
};
/// Reads a list, or tells every fault of it, places and all; coordinates are mm, in the list's own
/// frame.
using FeatureListLoader =
    std::function<tl::expected<ReadList<Feature>, Faults>(const ListRequest&)>;
using NestListLoader = std::function<tl::expected<ReadList<Nest>, Faults>(const ListRequest&)>;

/// A file's text, at most kMostSceneBytes, or a fault whose `where` is its path and whose `nearest`
/// is a file beside it that was most likely meant. `thing` says what it should be: "a scene file".
[[nodiscard]] tl::expected<std::string, Faults> text_of_file(const std::filesystem::path& file,
                                                             std::string_view thing);
using TextLoader = std::function<tl::expected<std::string, Faults>(
    const std::filesystem::path& file, std::string_view thing)>;

/// Where a scene takes what it names from.
struct SceneSources {
  BodyLoader body;
  FeatureListLoader features{};    ///< none: `feature_lists` cannot be read here, and it is told
  NestListLoader nests{};          ///< likewise
  TextLoader text = text_of_file;  ///< of included scenes
  /// Where not empty, nothing outside of this folder is read: for scenes that came in one file.
  std::filesystem::path within{};
  /// How faults call the folder `within`; for scenes that came in one file, that file.
  std::string within_shown{};
};

/// Reads a scene from its JSON text (contract sections 2 and 8, docs/scene.md), and from the scenes
/// that it includes.
///
/// `file` is the scene's own: what paths are relative to, what names a scene that does not name
/// itself (its name without extension), and what faults call it where they must. It is not read.
/// `sources.body` is called once for each body whose path can be read, in order, also where other
/// faults are known already: a missing mesh is told together with the rest.
/// Gives the scene in mm, rad and unit vectors, or every fault, file by file and in document order;
/// never both, never neither. Pure apart from `sources`. O(n log n) for n bytes.
[[nodiscard]] tl::expected<SceneFile, Faults> parse_scene(const std::string& text,
                                                          const std::filesystem::path& file,
                                                          const SceneSources& sources);

/// The same for a text without a file: its meshes are sought in `folder`.
[[nodiscard]] tl::expected<SceneFile, Faults> parse_scene(const std::string& text,
                                                          const std::filesystem::path& folder,
                                                          const std::string& default_name,
                                                          const BodyLoader& load);

/// `parse_scene` on a file's text; what keeps the file from being read, or is wrong with the whole
/// document, is a fault whose `where` is its path.
[[nodiscard]] tl::expected<SceneFile, Faults> read_scene_with(const std::filesystem::path& file,
                                                              const SceneSources& sources);
[[nodiscard]] tl::expected<SceneFile, Faults> read_scene_with(const std::filesystem::path& file,
                                                              const BodyLoader& load);

}  // namespace standpoint
