#include "io/read/files/scene_pieces.h"

#include <algorithm>
#include <cctype>
#include <fstream>
#include <map>
#include <optional>
#include <set>
#include <sstream>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "io/read/scene/parse_scene.h"

namespace standpoint {
namespace {

namespace fs = std::filesystem;
using Json = nlohmann::ordered_json;

fs::path from_utf8(const std::string& text) {
  return {std::u8string(text.begin(), text.end())};
}

std::string to_utf8(const fs::path& path) {
  const std::u8string text = path.generic_u8string();
  return {text.begin(), text.end()};
}

std::string in_lower_case(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return text;
}

/// Names in the packed scene. They differ by more than case: it may be unpacked by other systems.
class PackedNames {
 public:
  /// `wished`, or with a number where that is taken.
  std::string take(std::string wished) {
    for (char& c : wished) {
      if (c == '\\' || c == ':') c = '_';
    }
    const fs::path path = from_utf8(wished);
    const std::string stem = to_utf8(path.stem()), extension = to_utf8(path.extension());
    std::string name = wished;
    for (int number = 2; !taken_.insert(in_lower_case(name)).second; ++number)
      name = fmt::format("{}-{}{}", stem, number, extension);
    return name;
  }

 private:
  std::set<std::string> taken_;
};

class Gatherer {
 public:
  [[nodiscard]] tl::expected<std::vector<ScenePiece>, Faults> gather(const fs::path& scene) {
    names_.take("scene.json");
    packed_[fs::weakly_canonical(scene)] = "scene.json";
    add_scene(scene, "scene.json", scene.stem().string());
    if (!faults_.empty()) return tl::unexpected(std::move(faults_));
    std::sort(pieces_.begin(), pieces_.end(),
              [](const ScenePiece& a, const ScenePiece& b) { return a.name < b.name; });
    return std::move(pieces_);
  }

 private:
  /// A scene file under `name`, and all that it names. `own_name` is what it goes by where it does
  /// not say; empty for an included one, whose name means nothing.
  void add_scene(const fs::path& file, const std::string& name, const std::string& own_name) {
    const auto text = text_of_file(file, "a scene file");
    if (!text) {
      faults_.insert(faults_.end(), text.error().begin(), text.error().end());
      return;
    }
    Json scene = Json::parse(*text, nullptr, false);
    if (!scene.is_object()) {
      gone(file, "a scene file");
      return;
    }
    if (!own_name.empty() && !scene.contains("name")) scene["name"] = own_name;
    scene.erase("$schema");  // a path on this machine, for its editors
    for_each(scene, "bodies", [&](Json& body) {
      if (body.contains("mesh")) body["mesh"] = packed_mesh(named(file, body["mesh"]));
    });
    for (const char* key : {"feature_lists", "nest_lists"}) {
      for_each(scene, key,
               [&](Json& list) { list["file"] = packed_file(named(file, list["file"])); });
    }
    for_each(scene, "include",
             [&](Json& included) { included = packed_scene(named(file, included)); });
    pieces_.push_back({name, scene.dump(2) + "\n"});
  }

  template <class Change>
  static void for_each(Json& scene, const char* key, Change change) {
    if (!scene.contains(key)) return;
    for (Json& entry : scene[key]) change(entry);
  }

  static fs::path named(const fs::path& scene, const Json& path) {
    return scene.parent_path() / from_utf8(path.get<std::string>());
  }

  /// The name of a file that is packed already; a new one, in `is_new`, otherwise.
  std::string name_of(const fs::path& file, bool& is_new) {
    const auto [entry, added] = packed_.try_emplace(fs::weakly_canonical(file));
    if (added) entry->second = names_.take(to_utf8(file.filename()));
    is_new = added;
    return entry->second;
  }

  std::string packed_scene(const fs::path& file) {
    bool is_new = false;
    const std::string name = name_of(file, is_new);
    if (is_new) add_scene(file, name, "");
    return name;
  }

  std::string packed_file(const fs::path& file) {
    bool is_new = false;
    const std::string name = name_of(file, is_new);
    if (is_new) {
      if (auto bytes = bytes_of(file)) pieces_.push_back({name, std::move(*bytes)});
    }
    return name;
  }

  std::string packed_mesh(const fs::path& file) {
    const std::string extension = in_lower_case(file.extension().string());
    if (extension == ".obj") look_for_materials(file);
    if (extension != ".gltf") return packed_file(file);
    const auto [entry, is_new] = packed_.try_emplace(fs::weakly_canonical(file));
    if (is_new) {
      // A folder of its own keeps the paths to its buffers as they are.
      const std::string folder = names_.take(to_utf8(file.stem()));
      entry->second = folder + "/" + to_utf8(file.filename());
      add_gltf(file, folder);
    }
    return entry->second;
  }

  void add_gltf(const fs::path& file, const std::string& folder) {
    auto bytes = bytes_of(file);
    if (!bytes) return;
    std::set<std::string> uris;
    const Json document = Json::parse(*bytes, nullptr, false);
    if (document.is_object() && document.contains("buffers") && document["buffers"].is_array()) {
      for (const Json& buffer : document["buffers"]) {
        if (buffer.is_object() && buffer.contains("uri") && buffer["uri"].is_string())
          uris.insert(buffer["uri"].get<std::string>());
      }
    }
    pieces_.push_back({folder + "/" + to_utf8(file.filename()), std::move(*bytes)});
    for (const std::string& uri : uris) add_buffer(file, uri, folder);
  }

  /// Materials are colours: they stay behind. But what names a file outside is refused when the
  /// packed scene is read, so it is refused here.
  void look_for_materials(const fs::path& obj) {
    if (packed_.count(fs::weakly_canonical(obj)) > 0) return;  // told of already
    std::ifstream in(obj, std::ios::binary);
    for (std::string line; std::getline(in, line);) {
      constexpr std::string_view kWord = "mtllib ";
      if (line.compare(0, kWord.size(), kWord) != 0) continue;
      const std::size_t begin = line.find_first_not_of(" \t\r", kWord.size());
      if (begin == std::string::npos) continue;
      std::string name = line.substr(begin);
      name.erase(name.find_last_not_of(" \t\r") + 1);
      if (is_outside(from_utf8(name)))
        refuse(obj, name, "an OBJ file whose materials stand beside it");
    }
  }

  static bool is_outside(const fs::path& named) {
    const fs::path inside = named.lexically_normal();
    return inside.is_absolute() || inside.empty() || *inside.begin() == "..";
  }

  void refuse(const fs::path& file, const std::string& name, const char* allowed) {
    faults_.push_back({file.string(),
                       Json(name).dump(-1, ' ', false, Json::error_handler_t::replace), allowed,
                       FaultKind::other, ""});
  }

  void add_buffer(const fs::path& gltf, const std::string& uri, const std::string& folder) {
    if (uri.compare(0, 5, "data:") == 0) return;
    // As it stands, percent signs and all: so the meshes' reader takes it.
    const fs::path inside = from_utf8(uri).lexically_normal();
    if (is_outside(inside) || uri.find(':') != std::string::npos) {
      refuse(gltf, uri, "a glTF file whose buffers stand beside it or in it");
      return;
    }
    if (auto bytes = bytes_of(gltf.parent_path() / inside))
      pieces_.push_back({folder + "/" + to_utf8(inside), std::move(*bytes)});
  }

  std::optional<std::string> bytes_of(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    std::ostringstream bytes;
    bytes << in.rdbuf();
    if (in && bytes) return std::move(bytes).str();
    gone(file, "a file");
    return std::nullopt;
  }

  void gone(const fs::path& file, std::string_view thing) {
    faults_.push_back({file.string(), "", fmt::format("{} that can be read", thing),
                       FaultKind::file_unreadable, ""});
  }

  PackedNames names_;
  std::map<fs::path, std::string> packed_;  ///< files by where they stand, with their new names
  std::vector<ScenePiece> pieces_;
  Faults faults_;
};

}  // namespace

tl::expected<std::vector<ScenePiece>, Faults> gather_scene(const fs::path& scene) {
  return Gatherer().gather(scene);
}

}  // namespace standpoint
