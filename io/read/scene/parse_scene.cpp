#include "io/read/scene/parse_scene.h"

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

void read_heading(const ObjectCursor& object, const std::string& default_name, Scene& scene) {
  (void)read_choice(object.required("format"), kFormats);
  (void)read_whole(object.required("version"), kVersion);
  // Editors find the schema by this key; it says nothing about the scene.
  (void)read_text(object.optional("$schema"), kLongestPath);
  scene.name = read_name(object.optional("name")).value_or(default_name);
  const auto units = read_choice(object.required("units"), kUnitNames).value_or(0);
  scene.units = kUnitNames[units];
  scene.mm_per_unit = kMmPerUnit[units];
  if (const auto tolerance = read_number(object.optional("chord_tolerance"), kLength))
    scene.chord_tolerance = *tolerance * scene.mm_per_unit;
}

void read_document(const Cursor& root, const std::filesystem::path& folder,
                   const std::string& default_name, const BodyLoader& load, SceneReading& reading) {
  const ObjectCursor object(root);
  object.allow({"$schema", "format", "version", "name", "units", "chord_tolerance", "bodies",
                "instrument", "full_targets", "offset_styli", "features", "nests", "nest_sites",
                "nest_surfaces", "datum", "stations", "walkways", "rules", "room"});
  read_heading(object, default_name, reading.scene());
  read_instrument(object.required("instrument"), reading);
  read_bodies(object.optional("bodies"), folder, load, reading);
  read_full_targets(object.optional("full_targets"), reading);
  read_offset_styli(object.optional("offset_styli"), reading);
  read_features(object.optional("features"), reading);
  read_nests(object.optional("nests"), reading);
  read_nest_sites(object.optional("nest_sites"), reading);
  read_nest_surfaces(object.optional("nest_surfaces"), reading);
  read_datum(object.optional("datum"), reading);
  read_stations(object.optional("stations"), reading);
  read_walkways(object.optional("walkways"), reading);
  read_rules(object.optional("rules"), reading.scene());
  read_environment(object.optional("room"), reading.scene());
}

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

tl::expected<SceneFile, Faults> parse_scene(const std::string& text,
                                            const std::filesystem::path& folder,
                                            const std::string& default_name,
                                            const BodyLoader& load) {
  if (text.size() > kMostSceneBytes) return too_large("", kSceneFile);
  FaultSink faults;
  SceneReading reading;
  if (const auto document = parse_json(text, faults)) {
    Cursor root;
    root.value = &*document;
    root.faults = &faults;
    read_document(root, folder, default_name, load, reading);
  }
  if (!faults.empty()) return tl::unexpected(faults.take());
  return std::move(reading.result);
}

tl::expected<SceneFile, Faults> read_scene_with(const std::filesystem::path& file,
                                                const BodyLoader& load) {
  auto text = text_of_file(file, kSceneFile);
  if (!text) return tl::unexpected(std::move(text.error()));
  auto read = parse_scene(*text, file.parent_path(), file.stem().string(), load);
  if (read) return read;
  // The empty pointer means the whole document: its name tells people more.
  for (Fault& fault : read.error()) {
    if (fault.where.empty() && fault.kind != FaultKind::more_faults) fault.where = file.string();
  }
  return read;
}

}  // namespace standpoint
