#include <algorithm>
#include <ostream>

#include <fmt/format.h>

#include "io/commands.h"
#include "io/read_scene.h"
#include "io/sight_json.h"
#include "io/sight_text.h"
#include "planner/cell.h"
#include "planner/reach/sight.h"

namespace standpoint {
namespace {

/// The place to look from, mm.
tl::expected<Vec3, Faults> place_of(const Request& request, const Scene& scene) {
  if (request.at) return Vec3(*request.at * scene.mm_per_unit);
  const auto found =
      std::find_if(scene.fixed_stations.begin(), scene.fixed_stations.end(),
                   [&](const FixedStation& station) { return station.name == *request.station; });
  if (found != scene.fixed_stations.end()) return found->at;
  std::vector<std::string> names;
  for (const FixedStation& station : scene.fixed_stations) names.push_back(station.name);
  return tl::unexpected(Faults{
      {"--station", *request.station,
       names.empty() ? "the scene has no fixed places; use --at X,Y,Z"
                     : fmt::format("a fixed place of the scene: {}", fmt::join(names, ", "))}});
}

bool is_something_required_blocked(const Scene& scene, const Sight& sight) {
  return std::any_of(sight.features.begin(), sight.features.end(), [&](const FeatureMark& mark) {
    return scene.features[mark.feature.index].required && mark.verdict == Verdict::blocked;
  });
}

}  // namespace

Exit sight_command(const Request& request, const Console& console) {
  const auto read = read_scene(request.scene);
  if (!read) return tell_faults(read.error(), request.json, console);
  const Scene& scene = read->scene;
  const auto at = place_of(request, scene);
  if (!at) return tell_faults(at.error(), request.json, console);
  if (console.is_interrupted()) return tell_failure("interrupted", console);

  const Cell cell(scene);
  const Sight sight = look_from(cell, *at);
  if (console.is_interrupted()) return tell_failure("interrupted", console);
  if (request.json) {
    console.out << sight_json(scene, sight);
  } else if (!request.quiet) {
    print_sight(scene, sight, console.out);
  }
  return is_something_required_blocked(scene, sight) ? Exit::blocked : Exit::done;
}

}  // namespace standpoint
