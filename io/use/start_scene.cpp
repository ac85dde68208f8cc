#include "io/use/start_scene.h"

#include <algorithm>
#include <iterator>
#include <set>
#include <system_error>
#include <utility>

#include <fmt/format.h>

#include "io/read/bodies/body_reader.h"
#include "io/read/lists/feature_list.h"
#include "io/read/scene/nearest_file.h"
#include "io/read/scene/parse_scene.h"
#include "io/read/text/json_cursor.h"
#include "io/read/text/json_text.h"
#include "io/use/find_features.h"
#include "io/use/start_features.h"
#include "io/use/start_words.h"
#include "io/words/text.h"
#include "io/words/words.h"

namespace standpoint {
namespace {

namespace fs = std::filesystem;

/// What a hall file has, by its keys at the top.
using HallKeys = std::set<std::string>;

/// The first folder below the root.
fs::path top_of(const fs::path& absolute) {
  const fs::path below = absolute.relative_path();
  return below.empty() ? below : *below.begin();
}

/// A path as the scene's file writes it: from its folder; absolute where both have no more in
/// common than the root, since a path all the way up and down again tells people nothing.
std::string path_from(const fs::path& folder, const fs::path& file) {
  std::error_code error;
  const fs::path from = fs::absolute(folder).lexically_normal();
  const fs::path to = fs::absolute(file).lexically_normal();
  const fs::path near = fs::proximate(to, from, error);
  const bool is_far = error || near.empty() || top_of(from) != top_of(to);
  return (is_far ? to : near).generic_string();
}

/// The file's name as a scene takes it: not too long, and without control characters.
std::string plain_stem(const fs::path& file) {
  constexpr std::size_t kLongest = 100;  // bytes; half of what a scene takes in characters
  std::string stem = well_formed(file.stem().string().substr(0, kLongest));
  std::replace_if(
      stem.begin(), stem.end(), [](unsigned char c) { return c < 0x20 || c == 0x7F; }, '_');
  return stem.empty() ? "part" : stem;
}

std::string own_name(const fs::path& file, const std::vector<StartPart>& parts) {
  const std::string stem = plain_stem(file);
  std::string name = stem;
  const auto is_taken = [&](const std::string& one) {
    return one == "floor" || std::any_of(parts.begin(), parts.end(),
                                         [&](const StartPart& part) { return part.name == one; });
  };
  for (int i = 2; is_taken(name); ++i) name = fmt::format("{}-{}", stem, i);
  return name;
}

tl::expected<HallKeys, Faults> read_hall(const fs::path& file) {
  const auto text = text_of_file(file, "a scene file with the hall");
  if (!text) return tl::unexpected(text.error());
  FaultSink faults;
  HallKeys keys;
  const auto document = parse_json(*text, faults);
  if (document) {
    Cursor root;
    root.value = &*document;
    root.faults = &faults;
    if (const auto* object = root.expect<JsonObject>("a scene: an object"))
      for (const JsonMember& member : *object) keys.insert(member.key);
  }
  if (faults.empty()) return keys;
  Faults told = faults.take();
  for (Fault& fault : told)
    fault.where = file.string() + (fault.where.empty() ? "" : "#" + fault.where);
  return tl::unexpected(std::move(told));
}

void take_hall(const HallKeys& keys, StartScene& scene) {
  const auto has = [&](const char* key) { return keys.count(key) > 0; };
  scene.has_floor = !has("bodies");
  scene.has_instrument = !has("instrument");
  scene.has_targets = !has("full_targets") && !has("offset_styli");
  scene.has_nest_sites = !has("nests") && !has("nest_sites") && !has("nest_surfaces");
  scene.has_zones = !has("stations");
}

Fault fault_of_body(const fs::path& file, std::string why) {
  return {file.string(), "", "a mesh or CAD file that can be read; " + std::move(why),
          FaultKind::mesh_unreadable, nearest_file(file)};
}

/// A scene cannot name a file whose path has control characters.
Faults faults_of_paths(const Request& request) {
  Faults faults;
  std::vector<fs::path> files = request.files;
  for (const fs::path* more : {&request.feature_list, &request.hall})
    if (!more->empty()) files.push_back(*more);
  for (const fs::path& file : files) {
    const std::string path = path_from(request.folder, file);
    const bool is_plain = std::none_of(path.begin(), path.end(),
                                       [](unsigned char c) { return c < 0x20 || c == 0x7F; });
    if (!is_plain)
      faults.push_back({file.string(), "a path with control characters",
                        "a path that a scene can name", FaultKind::bad_text, ""});
  }
  return faults;
}

Fault fault_of_nothing(const Request& request, const StartFeatures& features) {
  const std::size_t left_out = features.on_floor.size() + features.no_place.size();
  return {request.files.front().string(),
          left_out == 0
              ? "nothing that can be measured"
              : fmt::format("{} that no scene can take", counted(left_out, "feature", "features")),
          "a part with features; --features FILE takes them from a list", FaultKind::other, ""};
}

/// Reads the parts' surfaces, all into one mesh: they stand together.
Mesh read_surfaces(const Request& request, StartScene& scene, Faults& faults) {
  Mesh all;
  for (const fs::path& file : request.files) {
    scene.parts.push_back({own_name(file, scene.parts), path_from(request.folder, file)});
    BodyRequest body;
    body.file = file;
    const auto read = read_body(body);
    if (!read) {
      faults.push_back(fault_of_body(file, read.error()));
      continue;
    }
    if (!read->report.stated_mm_per_unit) scene.unit_guessed.push_back(scene.parts.size() - 1);
    const auto first = static_cast<std::uint32_t>(all.vertices.size());
    for (const Vec3& vertex : read->mesh.vertices)
      if (vertex.allFinite()) all.vertices.push_back(vertex);
    if (all.vertices.size() - first != read->mesh.vertices.size()) {
      faults.push_back({file.string(), "coordinates that are not finite", "finite coordinates",
                        FaultKind::mesh_not_finite, ""});
      continue;
    }
    for (const auto& triangle : read->mesh.triangles)
      all.triangles.push_back({first + triangle[0], first + triangle[1], first + triangle[2]});
  }
  return all;
}

/// Whether the user's list can be read: better told now than by plan.
Faults faults_of_list(const fs::path& file) {
  const auto text = text_of_file(file, "a list of features");
  if (!text) return text.error();
  ListOptions options;
  options.file = file.string();
  options.default_units = "mm";
  const auto list = parse_feature_list(*text, options);
  return list ? Faults{} : list.error();
}

}  // namespace

Answered<StartScene> start_scene(const Request& request, const Attendant& attendant) {
  StartScene scene;
  Faults faults;
  scene.name = plain_stem(request.files.front());
  scene.kit = start_kit();
  const auto add = [&](const Faults& more) {
    faults.insert(faults.end(), more.begin(), more.end());
  };
  if (!request.hall.empty()) {
    scene.hall = path_from(request.folder, request.hall);
    if (const auto keys = read_hall(request.hall)) {
      take_hall(*keys, scene);
    } else {
      add(keys.error());
    }
  }
  if (!request.feature_list.empty()) add(faults_of_list(request.feature_list));
  add(faults_of_paths(request));
  attendant.say("reading the part");
  const Mesh part = read_surfaces(request, scene, faults);
  if (!faults.empty()) return wrong_input(std::move(faults));
  if (attendant.watch.is_interrupted()) return interrupted();
  scene.footing = stand_on_floor(part);
  scene.layout = lay_out(scene.footing.box, scene.kit.instrument);
  if (!request.feature_list.empty()) {
    scene.feature_list = path_from(request.folder, request.feature_list);
    scene.guesses = start_guesses(scene, nullptr);
    return scene;
  }
  auto found = find_part_features(request, attendant);
  if (!found) return tl::unexpected(std::move(found.error()));
  std::vector<FoundFeature> all;
  for (PartAnswer& answer : found->parts)
    std::move(answer.features.begin(), answer.features.end(), std::back_inserter(all));
  StartFeatures features = start_features(std::move(all), scene.footing);
  if (features.taken.empty()) return wrong_input({fault_of_nothing(request, features)});
  scene.feature_list = kFeatureList;
  scene.guesses = start_guesses(scene, &features);
  scene.features = std::move(features.taken);
  return scene;
}
}  // namespace standpoint
