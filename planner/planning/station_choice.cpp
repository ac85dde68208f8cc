#include "planner/planning/station_choice.h"

#include <algorithm>

#include "planner/planning/findings.h"
#include "planner/planning/improve.h"

namespace standpoint {
namespace {

/// The choice of stations as a covering problem: a column for each candidate, a row for each
/// feature.
CoverProblem covering(const Scene& scene, const std::vector<Candidate>& candidates,
                      const ReachTable& table, const Ties& ties) {
  CoverProblem problem;
  problem.rows = scene.features.size();
  problem.times = scene.rules.stations_per_feature;
  for (const Feature& feature : scene.features) problem.counts.push_back(feature.required);
  for (std::size_t c = 0; c < candidates.size(); ++c) {
    auto& covers = problem.covers.emplace_back();
    auto& fully = problem.fully.emplace_back();
    for (std::uint32_t f = 0; f < scene.features.size(); ++f) {
      const Verdict verdict = table.feature(CandidateId(c), FeatureId(f));
      if (verdict != Verdict::blocked) covers.push_back(f);
      if (verdict == Verdict::full_target) fully.push_back(f);
    }
    if (candidates[c].keep) problem.keep.push_back(static_cast<std::uint32_t>(c));
  }
  if (ties.are_asked()) problem.links = ties.groups();
  return problem;
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
  CoverSolution cover = solve_cover(covering(scene, candidates.kept, table, ties),
                                    watch.time_limit_s, [&] { return watch.is_interrupted(); });
  if (watch.is_interrupted()) return std::nullopt;

  const bool must_be_tied = ties.are_asked() && cover.keep_tied;
  const SwapSearch search{cell, candidates.kept, table,
                          [&](const std::vector<CandidateId>& chosen) {
                            return !must_be_tied || is_connected(ties, chosen);
                          }};
  const std::vector<CandidateId> first(cover.columns.begin(), cover.columns.end());
  std::vector<CandidateId> chosen = improve(search, first, watch);
  if (watch.is_interrupted()) return std::nullopt;
  return StationChoice{std::move(candidates), std::move(table), std::move(ties), std::move(cover),
                       std::move(chosen)};
}

Plan finish_plan(const Cell& cell, const StationChoice& choice, ProvisionalPlan provisional,
                 std::vector<Link> links) {
  Plan plan = std::move(provisional.plan);
  plan.links = std::move(links);
  plan.optimality = {choice.cover.is_count_proven() ? ProofStatus::optimal : ProofStatus::feasible,
                     static_cast<int>(choice.chosen.size()), choice.cover.lower_bound};
  plan.candidates = choice.candidates.tally;
  plan.unreached = find_unreached(cell, plan, choice.candidates.kept);
  plan.warnings = find_warnings({cell.scene(), choice.candidates, choice.table, choice.cover,
                                 choice.chosen, provisional.uncertainty.figures},
                                plan);
  return plan;
}

}  // namespace standpoint
