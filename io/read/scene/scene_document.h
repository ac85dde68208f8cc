#pragma once

#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "io/read/scene/name_table.h"
#include "io/read/scene/parse_scene.h"
#include "io/read/text/json_cursor.h"

namespace standpoint {

/// One JSON file of a scene, the scene file itself or one that is included, with what holds inside
/// of it alone: its unit, its frames, and where its paths begin.
struct SceneDocument {
  SceneDocument(std::filesystem::path its_file, std::string shown, bool is_file_told)
      : file(std::move(its_file)), faults(std::move(shown), is_file_told) {}
  SceneDocument(const SceneDocument&) = delete;
  SceneDocument& operator=(const SceneDocument&) = delete;

  std::filesystem::path file;
  FaultSink faults;
  JsonValue value;
  Cursor root;               ///< of `value`
  bool is_read = false;      ///< false where its text is no JSON object
  std::string units = "mm";  ///< of `kUnitNames`
  double mm_per_unit = 1;
  double chord_tolerance = 0.1;  ///< mm
  NameTable frame_names{"a frame of this file"};
  std::vector<Pose> frames;  ///< world from frame, mm

  [[nodiscard]] std::filesystem::path folder() const { return file.parent_path(); }
};

/// All files of a scene: the scene file first, then those that it includes, each before what it
/// includes itself. A file that is included from several others is there once.
struct SceneDocuments {
  std::vector<std::unique_ptr<SceneDocument>> all;
  bool has_gap = false;  ///< some file could not be read: a name that nothing has may be right
};

/// Reads the JSON of a scene and of all that it includes. What cannot be read, cycles, and too much
/// of it are faults of the document that names it; JSON faults are those of their own document.
[[nodiscard]] SceneDocuments gather_documents(const std::string& text,
                                              const std::filesystem::path& file,
                                              const SceneSources& sources);

/// A path of a scene: its text as a file's name.
[[nodiscard]] std::filesystem::path path_from_utf8(const std::string& text);

/// The file that a text of the document names, relative to the document's folder; nothing, and
/// told, where it is no path or leads out of `sources.within`.
[[nodiscard]] std::optional<std::filesystem::path> read_path(const Cursor& at,
                                                             const SceneDocument& document,
                                                             const SceneSources& sources);

/// How faults call a file.
[[nodiscard]] std::string shown_path(const std::filesystem::path& file,
                                     const SceneSources& sources);

/// The file that was most likely meant by one that is missing, as the document would name it; empty
/// where it is there or none is near.
[[nodiscard]] std::string nearest_named(const std::filesystem::path& file,
                                        const SceneDocument& document);

}  // namespace standpoint
