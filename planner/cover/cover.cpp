#include "planner/cover/cover.h"

#include <algorithm>
#include <cassert>
#include <numeric>

#include "planner/cover/cover_budget.h"
#include "planner/cover/cover_core.h"
#include "planner/cover/cover_cost.h"
#include "planner/cover/cover_stages.h"
#include "planner/cover/cover_start.h"

namespace standpoint {
namespace {

#ifndef NDEBUG
bool is_ascending_below(const std::vector<std::uint32_t>& list, std::size_t end) {
  return std::adjacent_find(list.begin(), list.end(), std::greater_equal<>()) == list.end() &&
         (list.empty() || list.back() < end);
}

void check_shared(const CoverProblem& problem) {
  assert(problem.shared.empty() || problem.times == 1);
  assert(problem.cost.empty() || problem.cost.size() == problem.covers.size());
  std::uint32_t last = 0;
  for (const SharedWay& way : problem.shared) {
    assert(last <= way.row && way.row < problem.rows);
    last = way.row;
    assert(is_ascending_below(way.columns, problem.covers.size()));
    assert(way.taken.rows() == way.columns.size() && way.taken.bits() == way.touches);
    for (const std::uint32_t c : way.columns) {
      const Columns& alone = problem.covers[c];
      assert(!std::binary_search(alone.begin(), alone.end(), way.row));
    }
  }
}
#endif

/// Asserts what the header asks of a problem.
void check(const CoverProblem& problem) {
#ifndef NDEBUG
  assert(problem.times >= 1);
  assert(problem.counts.size() == problem.rows);
  assert(problem.fully.size() == problem.covers.size());
  for (std::size_t c = 0; c < problem.covers.size(); ++c) {
    assert(is_ascending_below(problem.covers[c], problem.rows));
    assert(is_ascending_below(problem.fully[c], problem.rows));
    const Columns &all = problem.covers[c], &some = problem.fully[c];
    assert(std::includes(all.begin(), all.end(), some.begin(), some.end()));
  }
  check_shared(problem);
  std::vector<std::uint32_t> keep = problem.keep;
  std::sort(keep.begin(), keep.end());
  assert(is_ascending_below(keep, problem.covers.size()));
  if (problem.links) {
    const LinkGroups& links = *problem.links;
    assert(links.group_of.size() == problem.covers.size());
    assert(links.linked.bits() == links.linked.rows());
    for (const std::uint32_t group : links.group_of) assert(group < links.linked.rows());
    const BitMatrix mirrored = links.linked.transposed();
    for (std::size_t g = 0; g < mirrored.rows(); ++g) {
      assert(is_equal(mirrored[g], links.linked[g]));
    }
  }
#else
  (void)problem;
#endif
}

/// The connected parts of some columns, each ascending, in the order of their least columns.
std::vector<Columns> connected_parts(const Columns& columns, const LinkGroups& links) {
  const LinkGraph graph(links, columns);
  const auto number = graph.part_numbers(std::vector<char>(columns.size(), 1));
  std::vector<Columns> parts;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    if (number[i] == parts.size()) parts.emplace_back();
    parts[number[i]].push_back(columns[i]);
  }
  return parts;
}

/// The coverage that contract section 4 puts first.
int coverage(const CoverProblem& problem, const Columns& columns) {
  std::vector<int> times(problem.rows, 0);
  for (const std::uint32_t c : columns) {
    for (const std::uint32_t row : problem.covers[c]) ++times[row];
  }
  int sum = 0;
  for (std::size_t row = 0; row < problem.rows; ++row) {
    if (!problem.counts[row]) continue;
    if (times[row] == 0 && cover_together(problem, static_cast<std::uint32_t>(row), columns, false))
      times[row] = 1;
    sum += std::min(times[row], problem.times);
  }
  return sum;
}

int full_rows(const CoverProblem& problem, const Columns& columns) {
  std::vector<char> is_full(problem.rows, 0), is_alone(problem.rows, 0);
  for (const std::uint32_t c : columns) {
    for (const std::uint32_t row : problem.covers[c]) is_alone[row] = 1;
    for (const std::uint32_t row : problem.fully[c]) is_full[row] = 1;
  }
  for (const SharedWay& way : problem.shared) {
    if (is_alone[way.row] == 0 && cover_together(problem, way.row, columns, true))
      is_full[way.row] = 1;
  }
  return static_cast<int>(std::count(is_full.begin(), is_full.end(), 1));
}

bool holds_all(const Columns& columns, const std::vector<std::uint32_t>& some) {
  return std::all_of(some.begin(), some.end(), [&](std::uint32_t c) {
    return std::binary_search(columns.begin(), columns.end(), c);
  });
}

/// The parts that hold all kept columns and, of those, cover most: a connected set lies in one
/// part, and covers no more than the whole part.
std::vector<Columns> parts_that_cover_most(const CoverProblem& problem, std::vector<Columns> parts,
                                           int& most) {
  std::erase_if(parts, [&](const Columns& part) { return !holds_all(part, problem.keep); });
  std::vector<int> covered;
  covered.reserve(parts.size());
  for (const Columns& part : parts) covered.push_back(coverage(problem, part));
  most = covered.empty() ? 0 : *std::max_element(covered.begin(), covered.end());
  std::vector<Columns> best;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (covered[i] == most) best.push_back(std::move(parts[i]));
  }
  return best;
}

/// The second aim over all parts that reach the first one.
struct CountStage {
  int lower_bound = INT32_MAX;  ///< steps
  int cost = 0;                 ///< of the columns, steps
  Columns columns;  ///< of the cheapest; of equal ones the most full rows, then the first
  std::vector<std::size_t> parts;  ///< that may be as cheap
};

CountStage count_stage(const CoverProblem& problem, const std::vector<CoverCore>& cores,
                       CoverBudget& budget) {
  CountStage stage;
  std::vector<FewestColumns> found;
  int fewest = INT32_MAX;
  for (const CoverCore& core : cores) {
    found.push_back(fewest_columns(core, fewest, budget));
    fewest = std::min(fewest, found.back().cost);
    stage.lower_bound = std::min(stage.lower_bound, found.back().lower_bound);
  }
  stage.cost = fewest;
  int most_full = -1;
  for (std::size_t i = 0; i < cores.size(); ++i) {
    if (found[i].lower_bound <= fewest) stage.parts.push_back(i);
    if (found[i].cost > fewest) continue;
    const int full = full_rows(problem, found[i].names);
    if (full <= most_full) continue;
    most_full = full;
    stage.columns = found[i].names;
  }
  return stage;
}

/// What is known of the third aim where the second is not proven.
int any_full_rows(const std::vector<CoverCore>& cores) {
  int most = 0;
  for (const CoverCore& core : cores) {
    most = std::max(most, std::accumulate(core.weight.begin(), core.weight.end(), 0) +
                              static_cast<int>(core.shared.rows.size()));
  }
  return most;
}

/// A choice with more full rows, by exchanges within its own part.
Columns exchanged(const std::vector<CoverCore>& cores, const Columns& choice, CoverBudget& budget) {
  for (const CoverCore& core : cores) {
    if (!std::binary_search(core.names.begin(), core.names.end(), choice.front())) continue;
    return names_of(core, with_more_full_rows(core, numbers_of(core, choice), budget));
  }
  assert(false && "a choice lies in one of the parts");
  return choice;
}

/// The third aim, over the parts that reach the first two.
void full_stage(const CoverProblem& problem, const std::vector<CoverCore>& cores,
                const CountStage& stage, CoverBudget& budget, CoverSolution& solution) {
  solution.columns = exchanged(cores, solution.columns, budget);
  solution.full_rows = full_rows(problem, solution.columns);
  solution.full_bound = any_full_rows(cores);
  if (stage.lower_bound < stage.cost || budget.was_interrupted()) return;
  solution.full_bound = solution.full_rows;
  for (const std::size_t i : stage.parts) {
    const MostFullRows found = most_full_rows(cores[i], stage.cost, solution.full_rows, budget);
    solution.full_bound = std::max(solution.full_bound, found.upper_bound);
    if (!found.names) continue;
    solution.columns = *found.names;
    solution.full_rows = full_rows(problem, solution.columns);
  }
}

/// The cost of the solution and its bound, in the problem's measure.
void tell_cost(const CoverProblem& problem, const CostSteps& cost, const CountStage& stage,
               CoverSolution& solution) {
  solution.cost = 0;
  for (const std::uint32_t c : solution.columns)
    solution.cost += cost.are_equal ? 1 : problem.cost[c];
  const double bound = std::min(cost.step * stage.lower_bound, solution.cost - cost.step / 2);
  solution.lower_bound = stage.lower_bound == stage.cost ? solution.cost : bound;
}

/// Whether the links connect a set, and it holds what is kept.
[[maybe_unused]] bool is_allowed(const CoverProblem& problem,
                                 const std::optional<LinkGroups>& links, const Columns& columns) {
  if (!holds_all(columns, problem.keep)) return false;
  if (!links || columns.size() <= 1) return true;
  return connected_parts(columns, *links).size() == 1;
}

}  // namespace

CoverSolution solve_cover(const CoverProblem& problem, double time_limit_s,
                          const std::function<bool()>& is_interrupted) {
  check(problem);
  CoverBudget budget(time_limit_s, is_interrupted);
  CoverSolution solution;
  Columns all(problem.covers.size());
  std::iota(all.begin(), all.end(), 0U);
  std::vector<Columns> parts;
  if (problem.links) {
    parts = parts_that_cover_most(problem, connected_parts(all, *problem.links), solution.covered);
    solution.keep_tied = !parts.empty() || problem.keep.empty();
  }
  const std::optional<LinkGroups> no_links;
  const auto& links = solution.keep_tied ? problem.links : no_links;
  if (!links) parts = parts_that_cover_most(problem, {all}, solution.covered);
  if (solution.covered == 0 && problem.keep.empty()) return solution;

  const CostSteps cost(problem.cost, problem.covers.size());
  std::vector<CoverCore> cores;
  cores.reserve(parts.size());
  for (const Columns& part : parts) cores.push_back(make_core(problem, cost.of, part, links));
  const CountStage stage = count_stage(problem, cores, budget);
  solution.columns = stage.columns;
  full_stage(problem, cores, stage, budget, solution);
  tell_cost(problem, cost, stage, solution);

  const bool is_proven = solution.is_count_proven() && solution.full_bound == solution.full_rows;
  solution.status = budget.was_interrupted() ? CoverStatus::interrupted
                    : is_proven              ? CoverStatus::optimal
                                             : CoverStatus::feasible;
  assert(is_allowed(problem, links, solution.columns));
  assert(coverage(problem, solution.columns) == solution.covered);
  return solution;
}

}  // namespace standpoint
