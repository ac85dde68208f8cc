#include "planner/why/subject.h"

#include <cassert>

#include <tbb/parallel_for.h>

namespace standpoint {
namespace {

std::variant<FeatureReach, NestReach> make_reach(const Cell& cell, Subject subject) {
  if (const auto* feature = std::get_if<FeatureId>(&subject)) return FeatureReach(cell, *feature);
  return NestReach(cell, cell.scene().nests[std::get<NestId>(subject).index]);
}

Subject subject_at(const Scene& scene, std::size_t i) {
  if (i < scene.features.size()) return FeatureId(i);
  return NestId(i - scene.features.size());
}

}  // namespace

SubjectReach::SubjectReach(const Cell& cell, Subject subject) : reach_(make_reach(cell, subject)) {}

Verdict SubjectReach::verdict(const Stance& station) {
  return std::visit([&](auto& reach) { return reach.verdict(station); }, reach_);
}

SubjectMark SubjectReach::mark(const Stance& station) {
  if (auto* feature = std::get_if<FeatureReach>(&reach_)) {
    FeatureMark mark = feature->mark(station);
    return {mark.verdict, mark.margin, std::move(mark.touches), std::move(mark.by_target)};
  }
  TouchMark mark = std::get<NestReach>(reach_).mark(station);
  return {mark.verdict, mark.margin, {mark}, {mark.best}};
}

std::vector<Verdict> verdicts_from(const Cell& cell, const Stance& station) {
  const Scene& scene = cell.scene();
  std::vector<Verdict> verdicts(scene.features.size() + scene.nests.size());
  tbb::parallel_for(std::size_t{0}, verdicts.size(), [&](std::size_t i) {
    verdicts[i] = SubjectReach(cell, subject_at(scene, i)).verdict(station);
  });
  return verdicts;
}

Effect compare(const Scene& scene, const std::vector<Verdict>& before,
               const std::vector<Verdict>& after) {
  assert(before.size() == after.size());
  Effect effect;
  for (std::size_t i = 0; i < before.size(); ++i) {
    // full_target < offset_stylus < blocked
    if (after[i] < before[i]) effect.gained.push_back(subject_at(scene, i));
    if (after[i] > before[i]) effect.lost.push_back(subject_at(scene, i));
  }
  return effect;
}

}  // namespace standpoint
