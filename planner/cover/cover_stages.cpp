#include "planner/cover/cover_stages.h"

#include <algorithm>
#include <numeric>

#include "planner/cover/cover_program.h"
#include "planner/cover/cover_reduce.h"
#include "planner/cover/cover_start.h"
#include "planner/cover/cover_ties.h"

namespace standpoint {
namespace {

using Terms = std::vector<BinaryProgram::Term>;
constexpr int kOpen = BinaryProgram::kNoBound;

/// Variables 0..size-1 are the columns; rows ask what `is_enough` asks, and the cuts.
BinaryProgram covering_program(const CoverCore& core, int column_cost,
                               const std::vector<TieCut>& cuts) {
  BinaryProgram program;
  for (std::size_t c = 0; c < core.size(); ++c) {
    program.add_variable(column_cost, core.forced[c] != 0);
  }
  const BitMatrix by_row = core.covers.transposed();
  for (std::size_t row = 0; row < by_row.rows(); ++row) {
    Terms terms;
    for_each_bit(by_row[row], [&](std::size_t c) {
      terms.push_back({static_cast<std::uint32_t>(c), 1});
    });
    program.add_row(std::move(terms), core.need[row], kOpen);
  }
  for (const TieCut& cut : cuts) {
    Terms terms;
    for (const std::uint32_t c : cut.plus) terms.push_back({c, 1});
    for (const std::uint32_t c : cut.minus) terms.push_back({c, -1});
    program.add_row(std::move(terms), cut.at_least, kOpen);
  }
  return program;
}

Terms one_each(const CoverCore& core) {
  Terms terms;
  for (std::uint32_t c = 0; c < core.size(); ++c) terms.push_back({c, 1});
  return terms;
}

Columns chosen_by(const CoverCore& core, const std::vector<char>& values) {
  Columns chosen;
  for (std::uint32_t c = 0; c < core.size(); ++c) {
    if (values[c] != 0) chosen.push_back(c);
  }
  return chosen;
}

void append(std::vector<TieCut>& cuts, std::vector<TieCut> more) {
  std::move(more.begin(), more.end(), std::back_inserter(cuts));
}

int ssize(const Columns& columns) {
  return static_cast<int>(columns.size());
}

/// Adds a variable for each class of full rows, which may be 1 where a chosen column covers the
/// class fully, and asks for more weight than `floor`.
void ask_for_full_rows(BinaryProgram& program, const CoverCore& core, int floor) {
  const BitMatrix by_class = core.fully.transposed();
  Terms weights;
  for (std::size_t row = 0; row < by_class.rows(); ++row) {
    const std::uint32_t is_full = program.add_variable(-core.weight[row]);
    weights.push_back({is_full, core.weight[row]});
    Terms terms{{is_full, -1}};
    for_each_bit(by_class[row], [&](std::size_t c) {
      terms.push_back({static_cast<std::uint32_t>(c), 1});
    });
    program.add_row(std::move(terms), 0, kOpen);
  }
  program.add_row(std::move(weights), floor + 1, kOpen);
}

/// No `count` columns with the forced ones cover more classes fully than this. Where one column is
/// free it must be enough, and only such columns count: the bound is then sharp but for ties.
int greatest_full_weight(const CoverCore& core, int count) {
  const auto forced = static_cast<int>(std::count(core.forced.begin(), core.forced.end(), 1));
  const auto free = static_cast<std::size_t>(std::max(0, count - forced));
  std::vector<int> weight;
  for (std::uint32_t c = 0; c < core.size(); ++c) {
    if (core.forced[c] != 0) continue;
    if (free == 1 && count_bits(core.covers[c]) < core.need.size()) continue;
    weight.push_back(full_weight(core, {c}));
  }
  std::sort(weight.begin(), weight.end(), std::greater<>());
  weight.resize(std::min(weight.size(), free));
  const long long all = std::accumulate(core.weight.begin(), core.weight.end(), 0LL);
  return static_cast<int>(std::min(all, std::accumulate(weight.begin(), weight.end(), 0LL)));
}

/// The weight, in `whole`, of the classes that the forced columns of its reduced core cover fully:
/// the reduced core leaves them out.
int full_weight_of_forced(const CoverCore& whole, const CoverCore& core) {
  Columns forced;
  for (std::uint32_t c = 0; c < core.size(); ++c) {
    if (core.forced[c] != 0) forced.push_back(core.names[c]);
  }
  return full_weight(whole, numbers_of(whole, forced));
}

}  // namespace

FewestColumns fewest_columns(const CoverCore& whole, int interesting, CoverBudget& budget) {
  const CoverCore core = reduced(whole, Aim::count);
  int bound = least_columns(core);
  Columns best = good_choice(core, bound, budget);
  if (core.graph && bound < ssize(best) && bound <= interesting) {
    // Without ties far more columns are dominated, and where links are dense the bound is as good.
    CoverCore untied = core;
    untied.graph.reset();
    const FewestColumns loose = fewest_columns(untied, interesting, budget);
    bound = std::max(bound, loose.lower_bound);
    const Columns joined = joined_choice(core, numbers_of(core, loose.names));
    if (joined.size() < best.size()) best = joined;
  }
  std::vector<TieCut> cuts;
  while (bound < ssize(best) && bound <= interesting && !budget.is_over()) {
    BinaryProgram program = covering_program(core, 1, cuts);
    program.add_row(one_each(core), bound, ssize(best) - 1);
    const BinaryProgram::Outcome outcome = program.minimise(budget.left_s());
    if (outcome.state == BinaryProgram::State::infeasible) {
      bound = ssize(best);
      break;
    }
    if (outcome.bound) bound = std::clamp(*outcome.bound, bound, ssize(best));
    if (!outcome.values) break;
    const Columns chosen = chosen_by(core, *outcome.values);
    if (is_connected(core, chosen)) {
      best = chosen;
    } else {
      append(cuts, broken_ties(core, chosen));
      const Columns joined = joined_choice(core, chosen);
      if (joined.size() < best.size()) best = joined;
    }
    bound = std::min(bound, ssize(best));
    if (outcome.state == BinaryProgram::State::stopped) break;
  }
  return {names_of(core, best), bound};
}

MostFullRows most_full_rows(const CoverCore& whole, int count, int floor, CoverBudget& budget) {
  const CoverCore core = reduced(whole, Aim::full_rows);
  const int base = full_weight_of_forced(whole, core);
  MostFullRows result;
  int best = floor;
  int bound = std::max(floor, base + greatest_full_weight(core, count));
  std::vector<TieCut> cuts;
  while (bound > best && !budget.is_over()) {
    BinaryProgram program = covering_program(core, 0, cuts);
    program.add_row(one_each(core), count, count);
    ask_for_full_rows(program, core, best - base);
    const BinaryProgram::Outcome outcome = program.minimise(budget.left_s());
    if (outcome.state == BinaryProgram::State::infeasible) {
      bound = best;
      break;
    }
    if (outcome.bound) bound = std::clamp(base - *outcome.bound, best, bound);
    if (!outcome.values) break;
    const Columns chosen = chosen_by(core, *outcome.values);
    std::optional<Columns> better = chosen;
    if (!is_connected(core, chosen)) {
      append(cuts, broken_ties(core, chosen));
      better = exchanged_for_more(core, chosen, best - base);
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
