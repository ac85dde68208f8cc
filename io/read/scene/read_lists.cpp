#include <fmt/format.h>

#include "io/read/scene/read_values.h"
#include "io/read/scene/scene_limits.h"
#include "io/read/scene/scene_parts.h"
#include "io/words/units.h"

namespace standpoint {
namespace {

/// What an entry of `feature_lists` or `nest_lists` says beside the file.
struct ListEntry {
  ListRequest request;
  std::optional<Pose> frame;
};

/// Nothing, and told, where the file is no path.
std::optional<ListEntry> read_list_entry(const Cursor& at, const SceneReading& reading) {
  const ObjectCursor object(at);
  object.allow({"file", "frame", "units"});
  ListEntry entry;
  entry.frame = read_frame(object, reading);
  const auto units = read_choice(object.optional("units"), kUnitNames);
  if (units) entry.request.units = kUnitNames[*units];
  entry.request.default_units = reading.document->units;
  const auto file = read_path(object.required("file"), *reading.document, *reading.sources);
  if (!file) return std::nullopt;
  entry.request.file = *file;
  entry.request.shown = shown_path(*file, *reading.sources);
  return entry;
}

Faults no_lists(const ListEntry& listed) {
  return {{listed.request.shown, "a list", "a scene that names no lists: none can be read here",
           FaultKind::other, ""}};
}

/// Reads each list of `at`, and gives each of its entries, placed in the scene, to `take`, with
/// what its name's table must know of it.
template <class Entry, class Loader, class Take>
void read_lists(const Cursor& at, std::string_view thing, const Loader& load, NameTable& names,
                const SceneReading& reading, Take take) {
  const std::string expected = fmt::format("a list of at most 1000 lists of {}", thing);
  for_each_entry(at, {expected, 0, kMostLists}, [&](const Cursor& at_list, std::size_t) {
    const auto listed = read_list_entry(at_list, reading);
    if (!listed) {
      names.mark_incomplete();
      return;
    }
    auto read = load ? load(listed->request)
                     : tl::expected<ReadList<Entry>, Faults>(tl::unexpected(no_lists(*listed)));
    if (!read) {
      names.mark_incomplete();
      for (Fault& fault : read.error())
        at.faults->add_of_other_file(at_list.order(), std::move(fault));
      return;
    }
    for (std::size_t i = 0; i < read->entries.size(); ++i) {
      if (listed->frame) place_in_frame(*listed->frame, read->entries[i]);
      take(ListedPlace{std::move(read->places[i]), at_list.order(), at.faults},
           std::move(read->entries[i]));
    }
  });
}

}  // namespace

void read_feature_lists(const Cursor& at, SceneReading& reading) {
  if (at.value == nullptr) return;
  std::vector<Feature>& features = reading.scene().features;
  read_lists<Feature>(at, "features", reading.sources->features, reading.feature_names, reading,
                      [&](const ListedPlace& place, Feature feature) {
                        reading.feature_names.add(place, feature.name, features.size());
                        features.push_back(std::move(feature));
                        reading.result.feature_places.push_back(place.where);
                      });
}

void read_nest_lists(const Cursor& at, SceneReading& reading) {
  if (at.value == nullptr) return;
  std::vector<Nest>& nests = reading.scene().nests;
  read_lists<Nest>(at, "nests", reading.sources->nests, reading.nest_names, reading,
                   [&](const ListedPlace& place, Nest nest) {
                     reading.nest_names.add(place, nest.name, nests.size());
                     nests.push_back(std::move(nest));
                   });
}

}  // namespace standpoint
