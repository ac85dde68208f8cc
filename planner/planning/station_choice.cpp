#include "planner/planning/station_choice.h"

#include <algorithm>

#include "planner/planning/choose_alignment.h"
#include "planner/planning/findings.h"
#include "planner/planning/improve.h"
#include "planner/planning/open_rods.h"
#include "planner/planning/station_cover.h"

namespace standpoint {
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

std::optional<StationChoice> choose_stations(const Cell& cell, const Watch& watch, Rods rods) {
  const Scene& scene = cell.scene();
  watch.tell(Stage::candidates, 0);
  Candidates candidates = generate_candidates(cell);
  if (watch.is_interrupted()) return std::nullopt;

  ReachTable table = reach_all(cell, candidates.kept, watch, rods);
  if (watch.is_interrupted()) return std::nullopt;

  watch.tell(Stage::stations, 0);
  Ties ties(scene, table);
  OpenRods open({cell, candidates.kept, ties, watch}, table);
  CoverSolution cover = open.solve();
  if (watch.is_interrupted()) return std::nullopt;

  const bool must_be_tied = ties.are_asked() && cover.keep_tied;
  LaterSearch search{cell, candidates.kept, table,
                     [&](const std::vector<CandidateId>& chosen) {
                       return !must_be_tied || is_connected(ties, chosen);
                     },
                     [&] { open.ask_all(); }};
  const std::vector<CandidateId> first(cover.columns.begin(), cover.columns.end());
  if (scene.alignment)
    search.aligned = aligned_features(scene, stations_of(search, first)).features;
  open.ask_for_equal_sets(first, search.is_tied);
  LaterChoice later = improve(search, first, watch);
  open.ask_for_unreached(later.chosen);
  if (watch.is_interrupted()) return std::nullopt;
  return StationChoice{std::move(candidates), std::move(table),        std::move(ties),
                       std::move(cover),      std::move(later.chosen), later.proof};
}

Plan finish_plan(const Cell& cell, const StationChoice& choice, ProvisionalPlan provisional,
                 std::vector<Link> links) {
  Plan plan = std::move(provisional.plan);
  plan.links = std::move(links);
  plan.optimality = {
      choice.cover.is_count_proven() ? ProofStatus::optimal : ProofStatus::feasible,
      static_cast<int>(choice.chosen.size()), choice.cover.lower_bound,
      do_costs_differ(choice.candidates.kept) ? std::optional(choice.cover.cost) : std::nullopt,
      choice.later};
  plan.candidates = choice.candidates.tally;
  plan.unreached = find_unreached(cell, plan, choice.candidates.kept);
  plan.warnings = find_warnings({cell.scene(), choice.candidates, choice.table, choice.cover,
                                 choice.chosen, provisional.uncertainty.figures},
                                plan);
  return plan;
}

}  // namespace standpoint
