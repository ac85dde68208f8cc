#include "io/read/scene/parse_scene.h"

#include <algorithm>
#include <cerrno>
#include <fstream>
#include <system_error>

#include <fmt/format.h>
#include "io/read/scene/read_values.h"
#include "io/read/scene/scene_limits.h"
#include "io/read/scene/scene_parts.h"
#include "io/read/text/json_text.h"

#include "io/read/scene/nearest_file.h"
#include "io/words/units.h"

namespace standpoint {
namespace {

constexpr std::array<std::string_view, 1> kFormats{"standpoint-scene"};
constexpr std::string_view kSceneFile = "a scene file";

constexpr std::array<std::string_view, 25> kKeys{
    "$schema",         "format",        "version",      "name",          "units",
    "chord_tolerance", "include",       "frames",       "bodies",        "instrument",
    "full_targets",    "hole_adapters", "offset_styli", "features",      "feature_lists",
    "nests",           "nest_lists",    "nest_sites",   "nest_surfaces", "datum",
    "stations",        "walkways",      "rules",        "room",          "alignment"};

/// What holds for one document alone; the scene's own name and unit are those of the first.
void read_heading(const ObjectCursor& object, bool is_first, SceneReading& reading) {
  SceneDocument& document = *reading.document;
  (void)read_choice(object.required("format"), kFormats);
  (void)read_whole(object.required("version"), kVersion);
  // Editors find the schema by this key; it says nothing about the scene.
  (void)read_text(object.optional("$schema"), kLongestPath);
  const auto name = read_name(object.optional("name"));
  const auto units = read_choice(object.required("units"), kUnitNames).value_or(0);
  document.units = kUnitNames[units];
  document.mm_per_unit = kMmPerUnit[units];
  if (const auto tolerance = read_number(object.optional("chord_tolerance"), kLength))
    document.chord_tolerance = *tolerance * document.mm_per_unit;
  if (!is_first) return;
  Scene& scene = reading.scene();
  if (name) scene.name = *name;
  scene.units = document.units;
  scene.mm_per_unit = document.mm_per_unit;
  scene.chord_tolerance = document.chord_tolerance;
}

/// The documents of a scene, part by part: what later parts refer to is read of all documents
/// first.
class DocumentsReader {
 public:
  DocumentsReader(const SceneDocuments& documents, SceneReading& reading) : reading_(reading) {
    for (const auto& document : documents.all)
      parts_.push_back({document.get(), ObjectCursor(document->root)});
    has_gap_ = documents.has_gap;
    if (!has_gap_) return;
    for (NameTable* names : {&reading.body_names, &reading.target_names, &reading.ball_names,
                             &reading.feature_names, &reading.nest_names})
      names->mark_incomplete();
  }

  void read() {
    for (std::size_t i = 0; i < parts_.size(); ++i) {
      reading_.document = parts_[i].document;
      parts_[i].object.allow(kKeys);
      read_heading(parts_[i].object, i == 0, reading_);
      read_frames(parts_[i].object.optional("frames"), reading_);
    }
    only_one("instrument", read_instrument, true);
    each("bodies", read_bodies);
    each("full_targets", read_full_targets);
    each("hole_adapters", read_hole_adapters);
    each("offset_styli", read_offset_styli);
    each("features", read_features);
    each("feature_lists", read_feature_lists);
    each("nests", read_nests);
    each("nest_lists", read_nest_lists);
    each("nest_sites", read_nest_sites);
    each("nest_surfaces", read_nest_surfaces);
    only_one("datum", read_datum);
    each("stations", read_stations);
    each("walkways", read_walkways);
    only_one("rules", read_rules);
    only_one("alignment", read_alignment);
    only_one("room", read_environment);
  }

 private:
  struct Part {
    SceneDocument* document;
    ObjectCursor object;
  };
  using ReadPart = void (*)(const Cursor&, SceneReading&);

  void each(std::string_view key, ReadPart read_part) {
    for (const Part& part : parts_) {
      reading_.document = part.document;
      read_part(part.object.optional(key), reading_);
    }
  }

  /// For what there is one of: the first document that has it says it, and what the others say of
  /// it is checked all the same. Where none has it, `read_part` is given the first one's absent
  /// value.
  void only_one(std::string_view key, ReadPart read_part, bool is_required = false) {
    bool is_there = false;
    for (auto part = parts_.rbegin(); part != parts_.rend(); ++part) {
      const Cursor at = part->object.optional(key);
      if (at.value == nullptr) continue;
      is_there = true;
      reading_.document = part->document;
      read_part(at, reading_);
    }
    if (is_there) return;
    const ObjectCursor& first = parts_.front().object;
    reading_.document = parts_.front().document;
    // What cannot be read may have it.
    read_part(is_required && !has_gap_ ? first.required(key) : first.optional(key), reading_);
  }

  SceneReading& reading_;
  std::vector<Part> parts_;
  bool has_gap_ = false;
};

tl::unexpected<Faults> unreadable(const std::filesystem::path& file, std::string_view thing,
                                  const std::string& got, const std::string& nearest = "") {
  FaultSink faults;
  faults.add_near(FaultKind::file_unreadable, 0, file.string(), got, nearest, thing);
  return tl::unexpected(faults.take());
}

tl::unexpected<Faults> too_large(const std::string& where, std::string_view thing) {
  FaultSink faults;
  faults.add(FaultKind::file_too_large, 0, where, "", thing, kMostSceneMiB);
  return tl::unexpected(faults.take());
}

}  // namespace

tl::expected<std::string, Faults> text_of_file(const std::filesystem::path& file,
                                               std::string_view thing) {
  // Read in pieces up to the bound, so that a pipe works and an endless one ends.
  std::error_code error;
  if (std::filesystem::is_directory(file, error)) return unreadable(file, thing, "a folder");
  errno = 0;
  std::ifstream stream(file, std::ios::binary);
  if (!stream) {
    const int code = errno != 0 ? errno : EIO;
    if (code == ENOENT) return unreadable(file, thing, "", nearest_file(file));
    return unreadable(file, thing,
                      fmt::format("an error ({})", std::generic_category().message(code)));
  }
  std::string text;
  std::string piece(1U << 20U, '\0');
  while (stream.read(piece.data(), static_cast<std::streamsize>(piece.size())) ||
         stream.gcount() > 0) {
    text.append(piece, 0, static_cast<std::size_t>(stream.gcount()));
    if (text.size() > kMostSceneBytes) return too_large(file.string(), thing);
  }
  if (stream.bad()) return unreadable(file, thing, "an error while it was read");
  return text;
}

namespace {

tl::expected<SceneFile, Faults> parse_named(const std::string& text,
                                            const std::filesystem::path& file,
                                            const std::string& default_name,
                                            const SceneSources& sources) {
  if (text.size() > kMostSceneBytes) return too_large("", kSceneFile);
  const SceneDocuments documents = gather_documents(text, file, sources);
  SceneReading reading;
  reading.sources = &sources;
  reading.scene().name = default_name;
  // Of a text that is no JSON all is said by that.
  if (documents.all.front()->root.value != nullptr) DocumentsReader(documents, reading).read();
  std::vector<FaultSink*> sinks;
  for (const auto& document : documents.all) sinks.push_back(&document->faults);
  Faults faults = take_in_turn(sinks);
  if (!faults.empty()) return tl::unexpected(std::move(faults));
  return std::move(reading.result);
}

}  // namespace

tl::expected<SceneFile, Faults> parse_scene(const std::string& text,
                                            const std::filesystem::path& file,
                                            const SceneSources& sources) {
  return parse_named(text, file, file.stem().string(), sources);
}

tl::expected<SceneFile, Faults> parse_scene(const std::string& text,
                                            const std::filesystem::path& folder,
                                            const std::string& default_name,
                                            const BodyLoader& load) {
  return parse_named(text, folder / (default_name + ".json"), default_name, {load});
}

tl::expected<SceneFile, Faults> read_scene_with(const std::filesystem::path& file,
                                                const SceneSources& sources) {
  auto text = sources.text(file, kSceneFile);
  auto read = text ? parse_scene(*text, file, sources)
                   : tl::expected<SceneFile, Faults>(tl::unexpected(std::move(text.error())));
  if (read) return read;
  // The empty pointer means the whole document: its name tells people more.
  for (Fault& fault : read.error()) {
    const bool is_whole = fault.where.empty() && fault.kind != FaultKind::more_faults;
    if (is_whole || fault.where == file.string()) fault.where = shown_path(file, sources);
  }
  return read;
}

tl::expected<SceneFile, Faults> read_scene_with(const std::filesystem::path& file,
                                                const BodyLoader& load) {
  return read_scene_with(file, SceneSources{load});
}

}  // namespace standpoint
