#include "planner/planning/station_choice.h"

#include <algorithm>
#include <numeric>

#include "planner/planning/findings.h"
#include "planner/planning/improve.h"

namespace standpoint {
namespace {

/// The numbers 0..count - 1 in the order of `is_before`.
template <class IsBefore>
std::vector<std::uint32_t> sorted_numbers(std::size_t count, const IsBefore& is_before) {
  std::vector<std::uint32_t> numbers(count);
  std::iota(numbers.begin(), numbers.end(), 0u);
  std::stable_sort(numbers.begin(), numbers.end(), is_before);
  return numbers;
}

/// The choice of stations as a covering problem: a column for each candidate, a row for each
/// feature. Columns are sorted by place and rows by name, so that the solver is asked the same
/// thing whatever the order of the scene's lists.
struct Covering {
  CoverProblem problem;
  std::vector<std::uint32_t> candidates;  ///< of each column
};

Covering covering(const Scene& scene, const std::vector<Candidate>& candidates,
                  const ReachTable& table, const Ties& ties) {
  Covering covering;
  covering.candidates = sorted_numbers(candidates.size(), [&](std::uint32_t a, std::uint32_t b) {
    return comes_before(candidates[a], candidates[b]);
  });
  const std::vector<std::uint32_t> features =
      sorted_numbers(scene.features.size(), [&](std::uint32_t a, std::uint32_t b) {
        return scene.features[a].name < scene.features[b].name;
      });
  CoverProblem& problem = covering.problem;
  problem.rows = features.size();
  problem.times = scene.rules.stations_per_feature;
  for (const std::uint32_t f : features) problem.counts.push_back(scene.features[f].required);
  for (const std::uint32_t c : covering.candidates) {
    auto& covers = problem.covers.emplace_back();
    auto& fully = problem.fully.emplace_back();
    for (std::uint32_t row = 0; row < features.size(); ++row) {
      const Verdict verdict = table.feature(CandidateId(c), FeatureId(features[row]));
      if (verdict != Verdict::blocked) covers.push_back(row);
      if (verdict == Verdict::full_target) fully.push_back(row);
    }
    if (candidates[c].keep)
      problem.keep.push_back(static_cast<std::uint32_t>(problem.covers.size() - 1));
  }
  if (ties.are_asked()) problem.links = permuted(ties.groups(), covering.candidates);
  return covering;
}

}  // namespace

bool is_connected(const Ties& ties, const std::vector<CandidateId>& chosen) {
  if (chosen.empty()) return true;
  std::vector<CandidateId> reached{chosen.front()};
  for (std::size_t i = 0; i < reached.size(); ++i) {
    for (const CandidateId c : chosen) {
      if (std::find(reached.begin(), reached.end(), c) == reached.end() &&
          ties.are_linked(reached[i], c)) {
        reached.push_back(c);
      }
    }
  }
  return reached.size() == chosen.size();
}

std::vector<Link> links_between(const Ties& ties, const std::vector<CandidateId>& chosen) {
  std::vector<Link> links;
  for (std::size_t a = 0; a < chosen.size(); ++a) {
    for (std::size_t b = a + 1; b < chosen.size(); ++b) {
      if (!ties.are_linked(chosen[a], chosen[b])) continue;
      links.push_back({StationId(a), StationId(b), ties.shared(chosen[a], chosen[b])});
    }
  }
  return links;
}

std::optional<StationChoice> choose_stations(const Cell& cell, const Watch& watch) {
  const Scene& scene = cell.scene();
  watch.tell(Stage::candidates, 0);
  Candidates candidates = generate_candidates(cell);
  if (watch.is_interrupted()) return std::nullopt;

  ReachTable table = reach_all(cell, candidates.kept, watch);
  if (watch.is_interrupted()) return std::nullopt;

  watch.tell(Stage::stations, 0);
  Ties ties(scene, table);
  const Covering asked = covering(scene, candidates.kept, table, ties);
  CoverSolution cover =
      solve_cover(asked.problem, watch.time_limit_s, [&] { return watch.is_interrupted(); });
  for (std::uint32_t& column : cover.columns) column = asked.candidates[column];
  std::sort(cover.columns.begin(), cover.columns.end());
  if (watch.is_interrupted()) return std::nullopt;

  const bool must_be_tied = ties.are_asked() && cover.keep_tied;
  const LaterSearch search{cell, candidates.kept, table,
                           [&](const std::vector<CandidateId>& chosen) {
                             return !must_be_tied || is_connected(ties, chosen);
                           }};
  const std::vector<CandidateId> first(cover.columns.begin(), cover.columns.end());
  LaterChoice later = improve(search, first, watch);
  if (watch.is_interrupted()) return std::nullopt;
  return StationChoice{std::move(candidates), std::move(table),        std::move(ties),
                       std::move(cover),      std::move(later.chosen), later.proof};
}

Plan finish_plan(const Cell& cell, const StationChoice& choice, ProvisionalPlan provisional,
                 std::vector<Link> links) {
  Plan plan = std::move(provisional.plan);
  plan.links = std::move(links);
  plan.optimality = {choice.cover.is_count_proven() ? ProofStatus::optimal : ProofStatus::feasible,
                     static_cast<int>(choice.chosen.size()), choice.cover.lower_bound,
                     choice.later};
  plan.candidates = choice.candidates.tally;
  plan.unreached = find_unreached(cell, plan, choice.candidates.kept);
  plan.warnings = find_warnings({cell.scene(), choice.candidates, choice.table, choice.cover,
                                 choice.chosen, provisional.uncertainty.figures},
                                plan);
  return plan;
}

}  // namespace standpoint
