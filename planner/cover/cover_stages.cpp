#include "planner/cover/cover_stages.h"

#include <algorithm>
#include <numeric>

#include "planner/cover/cover_bounds.h"
#include "planner/cover/cover_cost.h"
#include "planner/cover/cover_program.h"
#include "planner/cover/cover_reduce.h"
#include "planner/cover/cover_shared_program.h"
#include "planner/cover/cover_start.h"
#include "planner/cover/cover_telling_rows.h"
#include "planner/cover/cover_ties.h"

namespace standpoint {
namespace {

/// Variables 0..size-1 are the columns; rows ask what `is_enough` asks, and the cuts. Of shared
/// rows they ask less (`ask_for_touches`): what is left comes by cuts.
BinaryProgram covering_program(const CoverCore& core, bool is_cost_asked,
                               const std::vector<ColumnCut>& cuts) {
  BinaryProgram program;
  for (std::size_t c = 0; c < core.size(); ++c) {
    program.add_variable(is_cost_asked ? core.cost[c] : 0, core.forced[c] != 0);
  }
  const BitMatrix by_row = core.covers.transposed();
  for (std::size_t row = 0; row < by_row.rows(); ++row) {
    BinaryProgram::Terms terms;
    for_each_bit(by_row[row], [&](std::size_t c) {
      terms.push_back({static_cast<std::uint32_t>(c), 1});
    });
    program.add_row(std::move(terms), core.need[row], BinaryProgram::kNoBound);
  }
  for (const ColumnCut& cut : cuts) {
    BinaryProgram::Terms terms;
    for (const std::uint32_t c : cut.plus) terms.push_back({c, 1});
    for (const std::uint32_t c : cut.minus) terms.push_back({c, -1});
    program.add_row(std::move(terms), cut.at_least, BinaryProgram::kNoBound);
  }
  ask_for_touches(program, core);
  return program;
}

BinaryProgram::Terms costs_of(const CoverCore& core) {
  BinaryProgram::Terms terms;
  for (std::uint32_t c = 0; c < core.size(); ++c) {
    if (core.cost[c] != 0) terms.push_back({c, core.cost[c]});
  }
  return terms;
}

Columns chosen_by(const CoverCore& core, const std::vector<char>& values) {
  Columns chosen;
  for (std::uint32_t c = 0; c < core.size(); ++c) {
    if (values[c] != 0) chosen.push_back(c);
  }
  return chosen;
}

/// Whether there were any.
template <class Cut>
bool append(std::vector<Cut>& cuts, std::vector<Cut> more) {
  std::move(more.begin(), more.end(), std::back_inserter(cuts));
  return !more.empty();
}

int greatest_cost(const CoverCore& core) {
  return core.cost.empty() ? 1 : *std::max_element(core.cost.begin(), core.cost.end());
}

/// Adds a variable for each class of full rows, which may be 1 where a chosen column covers the
/// class fully, and for each shared row; asks for more weight than `floor`. Returns what
/// `ask_for_shared_full_rows` does.
std::vector<std::uint32_t> ask_for_full_rows(BinaryProgram& program, const CoverCore& core,
                                             int floor, const std::vector<FullCut>& cuts) {
  const BitMatrix by_class = core.fully.transposed();
  BinaryProgram::Terms weights;
  for (std::size_t row = 0; row < by_class.rows(); ++row) {
    const std::uint32_t is_full = program.add_variable(-core.weight[row]);
    weights.push_back({is_full, core.weight[row]});
    BinaryProgram::Terms terms{{is_full, -1}};
    for_each_bit(by_class[row], [&](std::size_t c) {
      terms.push_back({static_cast<std::uint32_t>(c), 1});
    });
    program.add_row(std::move(terms), 0, BinaryProgram::kNoBound);
  }
  const SharedFullRows shared = ask_for_shared_full_rows(program, core, cuts);
  for (const std::uint32_t variable : shared.is_full) weights.push_back({variable, 1});
  program.add_row(std::move(weights), floor + 1, BinaryProgram::kNoBound);
  return shared.is_together;
}

/// How many unforced columns a choice of this cost has at most.
std::size_t most_free_columns(const CoverCore& core, int cost) {
  int left = cost, least = CostSteps::kMostSteps;
  for (std::uint32_t c = 0; c < core.size(); ++c) {
    if (core.forced[c] != 0) {
      left -= core.cost[c];
    } else {
      least = std::min(least, core.cost[c]);
    }
  }
  return static_cast<std::size_t>(std::max(0, left / std::max(1, least)));
}

/// No columns of this cost, the forced ones among them, cover more classes and shared rows fully.
/// Where one column is free it must be enough, and only such columns count: the bound is then sharp
/// but for ties and shared rows.
int greatest_full_weight(const CoverCore& core, int cost) {
  const std::size_t free = most_free_columns(core, cost);
  std::vector<int> weight;
  for (std::uint32_t c = 0; c < core.size(); ++c) {
    if (core.forced[c] != 0) continue;
    if (free == 1 && count_bits(core.covers[c]) < core.need.size()) continue;
    weight.push_back(class_weight(core, {c}));
  }
  std::sort(weight.begin(), weight.end(), std::greater<>());
  weight.resize(std::min(weight.size(), free));
  const long long all = std::accumulate(core.weight.begin(), core.weight.end(), 0LL);
  return static_cast<int>(std::min(all, std::accumulate(weight.begin(), weight.end(), 0LL)) +
                          static_cast<long long>(core.shared.rows.size()));
}

/// The weight, in `whole`, of the classes that the forced columns of its reduced core cover fully:
/// the reduced core leaves them out.
int full_weight_of_forced(const CoverCore& whole, const CoverCore& core) {
  Columns forced;
  for (std::uint32_t c = 0; c < core.size(); ++c) {
    if (core.forced[c] != 0) forced.push_back(core.names[c]);
  }
  return class_weight(whole, numbers_of(whole, forced));
}

}  // namespace

FewestColumns fewest_columns(const CoverCore& whole, int interesting, CoverBudget& budget) {
  const CoverCore core = reduced(whole, Aim::count);
  int bound = least_cost(core);
  Columns best = good_choice(core, bound, budget);
  int best_cost = cost_of(core, best);
  const auto take_if_better = [&](const Columns& other) {
    const int cost = cost_of(core, other);
    if (cost >= best_cost) return;
    best = other;
    best_cost = cost;
  };
  if (core.graph && bound < best_cost && bound <= interesting) {
    // Without ties far more columns are dominated, and where links are dense the bound is as good.
    CoverCore untied = core;
    untied.graph.reset();
    const FewestColumns loose = fewest_columns(untied, interesting, budget);
    bound = std::max(bound, loose.lower_bound);
    take_if_better(joined_choice(core, numbers_of(core, loose.names)));
  }
  if (bound < best_cost && bound <= interesting) {
    const int below = interesting < best_cost ? interesting + 1 : best_cost;
    const TellingRows told = bound_by_telling_rows(core, bound, below, budget);
    bound = std::max(bound, told.bound);
    if (told.better) take_if_better(*told.better);
  }
  std::vector<ColumnCut> cuts;
  while (bound < best_cost && bound <= interesting && !budget.is_over()) {
    BinaryProgram program = covering_program(core, true, cuts);
    program.add_row(costs_of(core), bound, best_cost - 1);
    const BinaryProgram::Outcome outcome = program.minimise(budget.left_s(), greatest_cost(core));
    if (outcome.state == BinaryProgram::State::infeasible) {
      bound = best_cost;
      break;
    }
    if (outcome.bound) bound = std::clamp(*outcome.bound, bound, best_cost);
    if (!outcome.values) break;
    const Columns chosen = chosen_by(core, *outcome.values);
    const bool is_open = append(cuts, open_row_cuts(core, chosen));
    const bool is_tied = is_connected(core, chosen);
    if (!is_tied) append(cuts, broken_ties(core, chosen));
    if (is_open) {
      take_if_better(completed_choice(core, chosen));
    } else {
      take_if_better(is_tied ? chosen : joined_choice(core, chosen));
    }
    bound = std::min(bound, best_cost);
    if (outcome.state == BinaryProgram::State::stopped) break;
  }
  return {names_of(core, best), best_cost, bound};
}

MostFullRows most_full_rows(const CoverCore& whole, int cost, int floor, CoverBudget& budget) {
  const CoverCore core = reduced(whole, Aim::full_rows);
  const int base = full_weight_of_forced(whole, core);
  MostFullRows result;
  int best = floor;
  int bound = std::max(floor, base + greatest_full_weight(core, cost));
  std::vector<ColumnCut> cuts;
  std::vector<FullCut> full_cuts;
  while (bound > best && !budget.is_over()) {
    BinaryProgram program = covering_program(core, false, cuts);
    program.add_row(costs_of(core), cost, cost);
    const auto is_together = ask_for_full_rows(program, core, best - base, full_cuts);
    const BinaryProgram::Outcome outcome = program.minimise(budget.left_s());
    if (outcome.state == BinaryProgram::State::infeasible) {
      bound = best;
      break;
    }
    if (outcome.bound) bound = std::clamp(base - *outcome.bound, best, bound);
    if (!outcome.values) break;
    const Columns chosen = chosen_by(core, *outcome.values);
    append(full_cuts, false_full_cuts(core, chosen, rows_said(is_together, *outcome.values)));
    const bool is_open = append(cuts, open_row_cuts(core, chosen));
    std::optional<Columns> better;
    if (!is_connected(core, chosen)) {
      append(cuts, broken_ties(core, chosen));
      if (!is_open) better = exchanged_for_more(core, chosen, best - base);
    } else if (!is_open && base + full_weight(core, chosen) > best) {
      better = chosen;
    }
    if (better) {
      better = with_more_full_rows(core, std::move(*better), budget);
      best = base + full_weight(core, *better);
      result.names = names_of(core, *better);
    }
    if (outcome.state == BinaryProgram::State::stopped) break;
  }
  result.upper_bound = std::max(bound, best);
  return result;
}

}  // namespace standpoint
