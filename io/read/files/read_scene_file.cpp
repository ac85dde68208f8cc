#include "io/read/files/read_scene_file.h"

#include <utility>

#include "io/read/files/unpacked_scene.h"
#include "io/read/lists/feature_list.h"
#include "io/read/lists/nest_list.h"

namespace standpoint {
namespace {

/// A list's text; where it cannot be read a fault under the name that people know it by.
tl::expected<std::string, Faults> list_text(const ListRequest& request) {
  auto text = text_of_file(request.file, "a list");
  if (text) return text;
  for (Fault& fault : text.error()) fault.where = request.shown;
  return text;
}

ListOptions options_of(const ListRequest& request) {
  return {request.shown, request.units, request.default_units};
}

tl::expected<ReadList<Feature>, Faults> read_feature_list(const ListRequest& request) {
  const auto text = list_text(request);
  if (!text) return tl::unexpected(text.error());
  const auto list = parse_feature_list(*text, options_of(request));
  if (!list) return tl::unexpected(list.error());
  ReadList<Feature> read{scene_features(*list), {}};
  for (const ListedFeature& feature : list->features) read.places.push_back(feature.where);
  return read;
}

tl::expected<ReadList<Nest>, Faults> read_nest_list(const ListRequest& request) {
  const auto text = list_text(request);
  if (!text) return tl::unexpected(text.error());
  auto list = parse_nest_list(*text, options_of(request));
  if (!list) return tl::unexpected(std::move(list.error()));
  ReadList<Nest> read;
  for (ListedNest& nest : list->nests) {
    read.entries.push_back(std::move(nest.nest));
    read.places.push_back(std::move(nest.where));
  }
  return read;
}

}  // namespace

tl::expected<SceneFile, Faults> read_scene_file(const std::filesystem::path& file) {
  SceneSources sources{read_body, read_feature_list, read_nest_list};
  if (!is_packed_scene(file)) return read_scene_with(file, sources);
  const auto unpacked = unpack_scene(file);
  if (!unpacked) return tl::unexpected(unpacked.error());
  sources.within = unpacked->folder();
  sources.within_shown = file.string();
  return read_scene_with(unpacked->scene(), sources);
}

}  // namespace standpoint
