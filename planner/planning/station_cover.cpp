#include "planner/planning/station_cover.h"

#include <algorithm>
#include <chrono>
#include <memory>
#include <numeric>
#include <variant>

#include "planner/reach/element.h"
#include "planner/reach/split.h"
#include "planner/stations/candidates.h"

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

/// Which number each of `numbers` has in the list.
std::vector<std::uint32_t> inverse_of(const std::vector<std::uint32_t>& numbers) {
  std::vector<std::uint32_t> inverse(numbers.size());
  for (std::uint32_t i = 0; i < numbers.size(); ++i) inverse[numbers[i]] = i;
  return inverse;
}

bool have_one_list(const TouchSet& a, const TouchSet& b) {
  return a.way == b.way && std::equal(a.touches.begin(), a.touches.end(), b.touches.begin(),
                                      b.touches.end(), [](const Touch& one, const Touch& other) {
                                        return one.at == other.at && one.normal == other.normal;
                                      });
}

/// How candidates may take one feature together. Targets that touch it in the same places share one
/// test, which no target takes part in.
void add_shared_ways(const Scene& scene, FeatureId feature, std::uint32_t row,
                     const SharedParts& parts, const std::vector<std::uint32_t>& column_of,
                     CoverProblem& problem) {
  const std::size_t first = problem.shared.size();
  const Feature& asked = scene.features[feature.index];
  for (std::size_t w = 0; w < parts.ways.size(); ++w) {
    const SharedParts::Way& way = parts.ways[w];
    SharedWay& shared = problem.shared.emplace_back();
    shared.row = row;
    shared.is_full = is_full_target(scene, way.target);
    shared.touches = way.set.touches.size();
    shared.is_count =
        asked.enough_touches.has_value() || std::holds_alternative<SurfaceFeature>(asked.shape);
    shared.least = static_cast<std::size_t>(
        asked.enough_touches ? *asked.enough_touches : least_touches(asked, way.set.way));
    const std::vector<std::uint32_t> order =
        sorted_numbers(way.candidates.size(), [&](std::uint32_t a, std::uint32_t b) {
          return column_of[way.candidates[a].index] < column_of[way.candidates[b].index];
        });
    shared.taken = BitMatrix(order.size(), shared.touches);
    for (std::size_t i = 0; i < order.size(); ++i) {
      shared.columns.push_back(column_of[way.candidates[order[i]].index]);
      std::copy(way.reached[order[i]].begin(), way.reached[order[i]].end(),
                shared.taken[i].begin());
    }
    for (std::size_t other = 0; other < w && !shared.is_enough; ++other) {
      if (have_one_list(parts.ways[other].set, way.set))
        shared.is_enough = problem.shared[first + other].is_enough;
    }
    if (shared.is_enough) continue;
    shared.is_enough = std::make_shared<TouchTest>(
        [&asked, &way](ConstBitSpan touches) { return are_enough(asked, way.set, touches); });
  }
}

/// The choice of stations as a covering problem: a column for each candidate, a row for each
/// feature. Columns are sorted by place and rows by name, so that the solver is asked the same
/// thing whatever the order of the scene's lists. The scene and the table must outlive it.
struct Covering {
  CoverProblem problem;
  std::vector<std::uint32_t> candidates;  ///< of each column
  std::vector<std::uint32_t> row_of;      ///< of each feature
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
  covering.row_of = inverse_of(features);
  CoverProblem& problem = covering.problem;
  problem.rows = features.size();
  problem.times = scene.rules.stations_per_feature;
  for (const std::uint32_t f : features) problem.counts.push_back(scene.features[f].required);
  for (const std::uint32_t c : covering.candidates) {
    if (candidates[c].keep)
      problem.keep.push_back(static_cast<std::uint32_t>(problem.covers.size()));
    problem.cost.push_back(candidates[c].cost);
    auto& covers = problem.covers.emplace_back();
    auto& fully = problem.fully.emplace_back();
    for (std::uint32_t row = 0; row < features.size(); ++row) {
      const Verdict verdict = table.feature(CandidateId(c), FeatureId(features[row]));
      if (verdict != Verdict::blocked) covers.push_back(row);
      if (verdict == Verdict::full_target) fully.push_back(row);
    }
  }
  const std::vector<std::uint32_t> column_of = inverse_of(covering.candidates);
  for (std::uint32_t row = 0; row < features.size(); ++row) {
    const FeatureId feature(features[row]);
    add_shared_ways(scene, feature, row, table.parts(feature), column_of, problem);
  }
  if (ties.are_asked()) problem.links = permuted(ties.groups(), covering.candidates);
  return covering;
}

/// The required features that candidates might yet share by stylus.
std::vector<FeatureId> not_asked_by_stylus(const Scene& scene,
                                           const std::vector<Candidate>& candidates,
                                           const ReachTable& table) {
  std::vector<FeatureId> open;
  for (std::size_t f = 0; f < scene.features.size(); ++f) {
    const Feature& feature = scene.features[f];
    const bool has_stylus =
        feature.targets.empty()
            ? !scene.offset_styli.empty()
            : std::any_of(feature.targets.begin(), feature.targets.end(),
                          [&](TargetId target) { return !is_full_target(scene, target); });
    if (!feature.required || !has_stylus || !is_split_allowed(scene, feature)) continue;
    int blocked = 0;
    for (std::size_t c = 0; c < candidates.size() && blocked < 2; ++c)
      blocked += table.feature(CandidateId(c), FeatureId(f)) == Verdict::blocked;
    if (blocked == 2) open.emplace_back(f);
  }
  return open;
}

/// Solves the choice, and asks by stylus for what it may rest on.
class Chooser {
 public:
  Chooser(const Cell& cell, const std::vector<Candidate>& candidates, const Ties& ties,
          const Watch& watch, ReachTable& table)
      : cell_(cell), candidates_(candidates), ties_(ties), watch_(watch), table_(table) {}

  /// First without parts by stylus; then with those of the required features that are not covered
  /// so. Those that are left could only help to cover their features with other stations.
  CoverSolution run() {
    const std::vector<FeatureId> open = not_asked_by_stylus(cell_.scene(), candidates_, table_);
    CoverSolution cover = solve({});
    if (open.empty() || watch_.is_interrupted()) return cover;
    std::vector<FeatureId> lost, rest;
    for (const FeatureId feature : open)
      (is_covered(feature, cover) ? rest : lost).push_back(feature);
    if (!lost.empty()) {
      add_stylus_parts(cell_, candidates_, lost, watch_, table_);
      if (watch_.is_interrupted()) return cover;
      cover = solve({});
      const bool covers_rest = std::all_of(
          rest.begin(), rest.end(), [&](FeatureId feature) { return is_covered(feature, cover); });
      if (!covers_rest) return better_after(rest, std::move(cover));
    }
    if (rest.empty() || is_best_without(rest, cover) || watch_.is_interrupted()) return cover;
    return better_after(rest, std::move(cover));
  }

 private:
  /// `no_concern`: features that need not be covered.
  [[nodiscard]] CoverSolution solve(const std::vector<FeatureId>& no_concern) const {
    Covering asked = covering(cell_.scene(), candidates_, table_, ties_);
    for (const FeatureId feature : no_concern)
      asked.problem.counts[asked.row_of[feature.index]] = false;
    const std::chrono::duration<double> spent = std::chrono::steady_clock::now() - begin_;
    CoverSolution cover =
        solve_cover(asked.problem, std::max(0.0, watch_.time_limit_s - spent.count()),
                    [&] { return watch_.is_interrupted(); });
    for (std::uint32_t& column : cover.columns) column = asked.candidates[column];
    std::sort(cover.columns.begin(), cover.columns.end());
    return cover;
  }

  /// With what candidates reach of these by stylus. Where time runs out meanwhile, `known` may
  /// still be the better one; of its bounds nothing is left then.
  CoverSolution better_after(const std::vector<FeatureId>& features, CoverSolution known) {
    add_stylus_parts(cell_, candidates_, features, watch_, table_);
    CoverSolution all = solve({});
    if (all.covered > known.covered || all.cost <= known.cost) return all;
    known.lower_bound = all.lower_bound;
    known.full_bound = std::max(all.full_bound, known.full_bound);
    known.status = all.status;
    return known;
  }

  [[nodiscard]] bool is_covered(FeatureId feature, const CoverSolution& cover) const {
    const std::vector<CandidateId> chosen(cover.columns.begin(), cover.columns.end());
    const auto takes = [&](CandidateId c) {
      return table_.feature(c, feature) != Verdict::blocked;
    };
    return std::any_of(chosen.begin(), chosen.end(), takes) ||
           verdict_together(cell_.scene(), feature, table_.parts(feature), chosen) !=
               Verdict::blocked;
  }

  /// Whether the choice, which covers all of `rest`, is as good as it could be if that were no
  /// concern. Then nobody who shares them can do better (proof in docs/stations.md).
  [[nodiscard]] bool is_best_without(const std::vector<FeatureId>& rest,
                                     const CoverSolution& cover) const {
    if (cover.status != CoverStatus::optimal) return false;
    if (cover.columns.size() == 1 && !do_costs_differ(candidates_)) return true;  // nobody to share
    const CoverSolution bound = solve(rest);
    return bound.covered + static_cast<int>(rest.size()) == cover.covered &&
           bound.keep_tied == cover.keep_tied && bound.is_count_proven() &&
           bound.cost == cover.cost && bound.full_bound <= cover.full_rows;
  }

  const Cell& cell_;
  const std::vector<Candidate>& candidates_;
  const Ties& ties_;
  const Watch& watch_;
  ReachTable& table_;
  std::chrono::steady_clock::time_point begin_ = std::chrono::steady_clock::now();
};

}  // namespace

bool do_costs_differ(const std::vector<Candidate>& candidates) {
  return std::any_of(candidates.begin(), candidates.end(), [&](const Candidate& candidate) {
    return candidate.cost != candidates.front().cost;
  });
}

CoverSolution solve_stations(const Cell& cell, const std::vector<Candidate>& candidates,
                             const Ties& ties, const Watch& watch, ReachTable& table) {
  return Chooser(cell, candidates, ties, watch, table).run();
}

}  // namespace standpoint
