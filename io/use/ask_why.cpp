#include "io/use/ask_why.h"

#include <utility>

#include "io/read/text/json_value.h"
#include "io/read/text/nearest_name.h"
#include "io/use/read_cell.h"
#include "planner/stations/candidates.h"
#include "planner/why/subject.h"

namespace standpoint {
namespace {

/// Where `name`, given with `option`, stands among `all`; otherwise the fault, with the nearest.
template <class Named>
tl::expected<std::size_t, Faults> index_of(const std::vector<Named>& all, const std::string& name,
                                           const char* option, const char* thing) {
  std::vector<std::string_view> names;
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (all[i].name == name) return i;
    names.push_back(all[i].name);
  }
  return tl::unexpected(Faults{{option, short_text(name), std::string("the name of ") + thing,
                                FaultKind::unknown_name, std::string(nearest_name(name, names))}});
}

tl::expected<Subject, Faults> subject_of(const Request& request, const Scene& scene) {
  if (request.feature) {
    return index_of(scene.features, *request.feature, "--feature", "a feature of the scene")
        .map([](std::size_t i) { return Subject(FeatureId(i)); });
  }
  return index_of(scene.nests, *request.nest, "--nest", "a nest of the scene")
      .map([](std::size_t i) { return Subject(NestId(i)); });
}

std::vector<OtherPlace> candidate_places(const Cell& cell) {
  std::vector<OtherPlace> places;
  for (const Candidate& candidate : generate_candidates(cell).kept)
    places.push_back({candidate.at, candidate.name, false, candidate.up});
  return places;
}

/// The plan that is asked in, where one is given.
tl::expected<std::optional<ReadPlan>, Faults> plan_of(const Request& request, const Scene& scene) {
  if (request.plan.empty()) return std::nullopt;
  auto read = read_plan(request.plan, scene);
  if (!read) return tl::unexpected(std::move(read.error()));
  return std::move(*read);
}

/// What standing there and not where it was planned does to what was asked about.
void tell_change(const Cell& cell, const Diagnosis& diagnosis, StandingPlace& place) {
  if (!place.planned) return;
  const Verdict planned = SubjectReach(cell, diagnosis.subject).verdict(stance_of(*place.planned));
  if (diagnosis.mark.verdict < planned) place.planned->effect.gained = {diagnosis.subject};
  if (diagnosis.mark.verdict > planned) place.planned->effect.lost = {diagnosis.subject};
}

}  // namespace

Answered<WhyQuestion> take_question(const Request& request, const Attendant& attendant) {
  auto read = read_scene_of(request, attendant);
  if (!read) return tl::unexpected(std::move(read.error()));
  Scene& scene = read->scene;
  auto plan = plan_of(request, scene);
  if (!plan) return wrong_input(std::move(plan.error()));
  if (*plan) scene.nests.insert(scene.nests.end(), (*plan)->sites.begin(), (*plan)->sites.end());
  Faults faults;
  auto place = standing_place(request, scene, *plan ? &**plan : nullptr);
  if (!place) faults = place.error();
  const auto subject = subject_of(request, scene);
  if (!subject) faults.insert(faults.end(), subject.error().begin(), subject.error().end());
  if (!faults.empty()) return wrong_input(std::move(faults));
  if (attendant.watch.is_interrupted()) return interrupted();
  return WhyQuestion{Cell(std::move(scene), std::move(read->meshes)), *subject, std::move(*place),
                     std::move(*plan)};
}

Answered<WhyAnswer> ask_why(const Request& request, WhyQuestion question,
                            const Attendant& attendant) {
  const Cell& cell = question.cell;
  const Stance stance = stance_of(question.place);
  std::optional<WhyPlan> plan;
  std::vector<OtherPlace> places = candidate_places(cell);
  if (question.plan) {
    auto looked = look_at_plan(cell, *question.plan, request, stance);
    if (!looked) return wrong_input(std::move(looked.error()));
    plan = std::move(*looked);
    places = places_beside(*plan, places);
  }
  Diagnosis diagnosis =
      diagnose(cell, question.subject, stance, places, CureSearch{}, attendant.watch);
  if (attendant.watch.is_interrupted()) return interrupted();
  tell_change(cell, diagnosis, question.place);
  return WhyAnswer{std::move(question.cell), std::move(diagnosis), std::move(question.place),
                   std::move(plan)};
}

}  // namespace standpoint
