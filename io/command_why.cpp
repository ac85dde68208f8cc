#include <ostream>

#include <fmt/format.h>

#include "io/commands.h"
#include "io/measured_words.h"
#include "io/progress.h"
#include "io/read_scene.h"
#include "io/standing_place.h"
#include "io/why_json.h"
#include "io/why_text.h"
#include "planner/stations/candidates.h"
#include "planner/why/diagnosis.h"

namespace standpoint {
namespace {

template <class Named>
std::optional<std::size_t> index_of(const std::vector<Named>& all, const std::string& name) {
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (all[i].name == name) return i;
  }
  return std::nullopt;
}

tl::expected<Subject, Faults> subject_of(const Request& request, const Scene& scene) {
  if (request.feature) {
    if (const auto i = index_of(scene.features, *request.feature)) return FeatureId(*i);
    return tl::unexpected(
        Faults{{"--feature", *request.feature, "the name of a feature of the scene"}});
  }
  if (const auto i = index_of(scene.nests, *request.nest)) return NestId(*i);
  return tl::unexpected(Faults{{"--nest", *request.nest, "the name of a nest of the scene"}});
}

std::vector<OtherPlace> other_places(const Cell& cell) {
  std::vector<OtherPlace> places;
  for (const Candidate& candidate : raise_candidates(cell).kept) {
    places.push_back({candidate.at, candidate.name, false});
  }
  return places;
}

}  // namespace

Exit why_command(const Request& request, const Console& console) {
  const auto read = read_scene(request.scene);
  if (!read) return tell_faults(read.error(), request.json, console);
  const Scene& scene = read->scene;
  Faults faults;
  auto place = standing_place(request, scene);
  if (!place) faults = place.error();
  const auto subject = subject_of(request, scene);
  if (!subject) faults.insert(faults.end(), subject.error().begin(), subject.error().end());
  if (!faults.empty()) return tell_faults(faults, request.json, console);
  if (console.is_interrupted()) return tell_failure("interrupted", console);

  const Cell cell(scene);
  Watch watch;
  watch.interrupted = console.interrupted;
  const Diagnosis diagnosis =
      diagnose(cell, *subject, place->at, other_places(cell), CureSearch{}, watch);
  if (console.is_interrupted()) return tell_failure("interrupted", console);
  if (place->planned) {
    const Verdict planned = SubjectReach(cell, *subject).verdict(place->planned->at);
    if (diagnosis.mark.verdict < planned) place->planned->effect.gained = {*subject};
    if (diagnosis.mark.verdict > planned) place->planned->effect.lost = {*subject};
  }
  if (request.json) {
    console.out << why_json(scene, diagnosis, *place);
  } else if (!request.quiet) {
    print_measured(scene, *place, console.out);
    print_why(scene, diagnosis, console.out);
  }
  return diagnosis.mark.verdict == Verdict::blocked ? Exit::blocked : Exit::done;
}

}  // namespace standpoint
