#include <ostream>

#include <fmt/format.h>

#include "io/answers/measured_words.h"
#include "io/answers/standing_place.h"
#include "io/answers/why_json.h"
#include "io/answers/why_text.h"
#include "io/commands/commands.h"
#include "io/commands/progress.h"
#include "io/commands/write_files.h"
#include "io/drawings/beam_picture.h"
#include "io/drawings/svg_to_png.h"
#include "io/scene/json_value.h"
#include "io/scene/nearest_name.h"
#include "io/scene/read_scene.h"
#include "io/words/text.h"
#include "planner/stations/candidates.h"
#include "planner/why/diagnosis.h"

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
  for (const Candidate& candidate : raise_candidates(cell).kept) {
    places.push_back({candidate.at, candidate.name, false});
  }
  return places;
}

/// The plan that is asked in, where one is given.
tl::expected<std::optional<ReadPlan>, Faults> plan_of(const Request& request, const Scene& scene) {
  if (request.plan.empty()) return std::nullopt;
  auto read = read_plan(request.plan, scene);
  if (!read) return tl::unexpected(std::move(read.error()));
  return std::move(*read);
}

std::filesystem::path folder_of(const std::filesystem::path& file) {
  return file.has_parent_path() ? file.parent_path() : std::filesystem::path(".");
}

/// Draws into the file that was asked for; why it could not, as a sentence.
std::optional<std::string> write_picture(const Cell& cell, const Diagnosis& diagnosis,
                                         const std::filesystem::path& file) {
  constexpr double kPixels = 2;  // to each unit: sharp on paper 180 mm wide
  auto drawn = draw_beam_picture(cell, diagnosis);
  if (!drawn) return "there is no picture: no target was tried, so there is no beam to look along";
  if (file.extension() == ".png") {
    auto png = svg_to_png(*drawn, kPixels);
    if (!png) return png.error();
    drawn = std::move(*png);
  }
  return write_together(folder_of(file), {{file.filename().string(), std::move(*drawn)}});
}

/// What standing there and not where it was planned does to what was asked about.
void tell_change(const Cell& cell, const Diagnosis& diagnosis, StandingPlace& place) {
  if (!place.planned) return;
  const Verdict planned = SubjectReach(cell, diagnosis.subject).verdict(place.planned->at);
  if (diagnosis.mark.verdict < planned) place.planned->effect.gained = {diagnosis.subject};
  if (diagnosis.mark.verdict > planned) place.planned->effect.lost = {diagnosis.subject};
}

/// All that is known in the end.
struct Answered {
  const Diagnosis& diagnosis;
  const StandingPlace& place;
  const WhyPlan* plan;
};

void tell(const Request& request, const Scene& scene, const Answered& answered,
          const Console& console) {
  if (request.json) {
    console.out << why_json(scene, answered.diagnosis, answered.place, answered.plan);
    return;
  }
  if (request.quiet) return;
  print_measured(scene, answered.place, console.out);
  print_why(scene, answered.diagnosis, console.out, answered.plan);
  if (!request.picture.empty())
    console.out << "\nPicture: " << for_terminal(request.picture.string()) << '\n';
}

}  // namespace

Exit why_command(const Request& request, const Console& console) {
  auto read = read_scene(request.scene);
  if (!read) return tell_faults(read.error(), request.json, console);
  Scene& scene = read->scene;
  const auto plan_file = plan_of(request, scene);
  if (!plan_file) return tell_faults(plan_file.error(), request.json, console);
  const ReadPlan* const planned = *plan_file ? &**plan_file : nullptr;
  if (planned != nullptr)
    scene.nests.insert(scene.nests.end(), planned->sites.begin(), planned->sites.end());
  Faults faults;
  auto place = standing_place(request, scene, planned);
  if (!place) faults = place.error();
  const auto subject = subject_of(request, scene);
  if (!subject) faults.insert(faults.end(), subject.error().begin(), subject.error().end());
  if (!faults.empty()) return tell_faults(faults, request.json, console);
  if (console.is_interrupted()) return tell_failure("interrupted", console);
  const bool draws = !request.picture.empty();
  if (draws) {
    if (const auto why = why_unwritable(folder_of(request.picture)))
      return tell_failure(*why, console);
  }

  const Cell cell(scene);
  std::optional<WhyPlan> plan;
  std::vector<OtherPlace> places = candidate_places(cell);
  if (planned != nullptr) {
    auto looked = look_at_plan(cell, *planned, request, place->at);
    if (!looked) return tell_faults(looked.error(), request.json, console);
    plan = std::move(*looked);
    places = places_beside(*plan, places);
  }
  Watch watch;
  watch.interrupted = console.interrupted;
  const Diagnosis diagnosis = diagnose(cell, *subject, place->at, places, CureSearch{}, watch);
  if (console.is_interrupted()) return tell_failure("interrupted", console);
  tell_change(cell, diagnosis, *place);
  if (draws) {
    if (const auto why = write_picture(cell, diagnosis, request.picture))
      return tell_failure(*why, console);
  }
  tell(request, scene, {diagnosis, *place, plan ? &*plan : nullptr}, console);
  return diagnosis.mark.verdict == Verdict::blocked ? Exit::blocked : Exit::done;
}

}  // namespace standpoint
