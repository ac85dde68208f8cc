#include "io/use/look.h"

#include <utility>

#include "io/use/read_cell.h"
#include "planner/why/subject.h"

namespace standpoint {
namespace {

/// As `verdicts_from` lists them.
std::vector<Verdict> verdicts_of(const Sight& sight) {
  std::vector<Verdict> verdicts;
  for (const FeatureMark& mark : sight.features) verdicts.push_back(mark.verdict);
  for (const NestMark& nest : sight.nests) verdicts.push_back(nest.mark.verdict);
  return verdicts;
}

}  // namespace

Answered<SightAnswer> look(const Request& request, const Attendant& attendant) {
  auto read = read_scene_of(request, attendant);
  if (!read) return tl::unexpected(std::move(read.error()));
  auto place = standing_place(request, read->scene);
  if (!place) return wrong_input(std::move(place.error()));
  if (attendant.watch.is_interrupted()) return interrupted();

  Cell cell(std::move(read->scene), std::move(read->meshes));
  Sight sight = look_from(cell, stance_of(*place));
  if (place->planned) {
    place->planned->effect =
        compare(cell.scene(), verdicts_from(cell, stance_of(*place->planned)), verdicts_of(sight));
  }
  if (attendant.watch.is_interrupted()) return interrupted();
  return SightAnswer{std::move(cell), std::move(*place), std::move(sight)};
}

}  // namespace standpoint
