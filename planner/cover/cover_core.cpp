#include "planner/cover/cover_core.h"

#include <algorithm>
#include <numeric>

namespace standpoint {
namespace {

/// For each row of the problem how often the core must cover it.
std::vector<int> needs(const CoverProblem& problem, const Columns& columns) {
  std::vector<int> need(problem.rows, 0);
  for (const std::uint32_t column : columns) {
    for (const std::uint32_t row : problem.covers[column]) {
      if (problem.counts[row] && need[row] < problem.times) ++need[row];
    }
  }
  return need;
}

}  // namespace

CoverCore make_core(const CoverProblem& problem, const std::vector<int>& cost,
                    const Columns& columns, const std::optional<LinkGroups>& links) {
  CoverCore core;
  core.names = columns;
  for (const std::uint32_t column : columns) core.cost.push_back(cost[column]);
  std::vector<std::uint32_t> shared_number;
  core.shared = make_shared_rows(problem, columns, shared_number);
  core.forced.assign(columns.size(), 0);
  for (std::size_t i = 0; i < columns.size(); ++i) {
    core.forced[i] = static_cast<char>(
        std::find(problem.keep.begin(), problem.keep.end(), columns[i]) != problem.keep.end());
  }

  std::vector<std::uint32_t> number(problem.rows, UINT32_MAX);
  const std::vector<int> need = needs(problem, columns);
  for (std::size_t row = 0; row < problem.rows; ++row) {
    if (need[row] == 0 || shared_number[row] != UINT32_MAX) continue;
    number[row] = static_cast<std::uint32_t>(core.need.size());
    core.need.push_back(need[row]);
  }
  core.covers = BitMatrix(columns.size(), core.need.size());
  BitMatrix fully_by_row(problem.rows, columns.size());
  for (std::size_t i = 0; i < columns.size(); ++i) {
    for (const std::uint32_t row : problem.covers[columns[i]]) {
      if (number[row] != UINT32_MAX) set_bit(core.covers[i], number[row]);
    }
    for (const std::uint32_t row : problem.fully[columns[i]]) {
      if (shared_number[row] == UINT32_MAX) set_bit(fully_by_row[row], i);
    }
  }
  join_equal_rows(fully_by_row, std::vector<int>(problem.rows, 1), core.fully, core.weight);

  if (links && columns.size() > 1) {
    core.graph.emplace(*links, columns);
    if (core.graph->is_complete()) core.graph.reset();
  }
  return core;
}

int cost_of(const CoverCore& core, const Columns& set) {
  int sum = 0;
  for (const std::uint32_t column : set) sum += core.cost[column];
  return sum;
}

bool is_enough(const CoverCore& core, const Columns& set) {
  const auto forced = std::count(core.forced.begin(), core.forced.end(), 1);
  const auto held =
      std::count_if(set.begin(), set.end(), [&](std::uint32_t c) { return core.forced[c] != 0; });
  if (forced != held) return false;
  std::vector<int> open = core.need;
  for (const std::uint32_t column : set) {
    for_each_bit(core.covers[column], [&](std::size_t row) { --open[row]; });
  }
  if (!std::all_of(open.begin(), open.end(), [](int left) { return left <= 0; })) return false;
  return core.shared.empty() || are_met(core.shared, touched_together(core.shared, set));
}

bool is_connected(const CoverCore& core, const Columns& set) {
  return set.size() <= 1 || !core.graph || core.graph->parts_of(set).size() == 1;
}

int full_weight(const CoverCore& core, const Columns& set) {
  return class_weight(core, set) + count_full(core.shared, set);
}

int class_weight(const CoverCore& core, const Columns& set) {
  std::vector<BitWord> full(words_for(core.weight.size()), 0);
  for (const std::uint32_t column : set) {
    const ConstBitSpan more = core.fully[column];
    for (std::size_t w = 0; w < full.size(); ++w) full[w] |= more[w];
  }
  int sum = 0;
  for_each_bit(full, [&](std::size_t row) { sum += core.weight[row]; });
  return sum;
}

Columns names_of(const CoverCore& core, const Columns& set) {
  Columns names;
  names.reserve(set.size());
  for (const std::uint32_t column : set) names.push_back(core.names[column]);
  std::sort(names.begin(), names.end());
  return names;
}

Columns numbers_of(const CoverCore& core, const Columns& names) {
  Columns numbers;
  numbers.reserve(names.size());
  for (const std::uint32_t name : names) {
    const auto at = std::lower_bound(core.names.begin(), core.names.end(), name);
    assert(at != core.names.end() && *at == name);
    numbers.push_back(static_cast<std::uint32_t>(at - core.names.begin()));
  }
  return numbers;
}

void join_equal_rows(const BitMatrix& fully_by_row, const std::vector<int>& row_weight,
                     BitMatrix& fully, std::vector<int>& weight) {
  std::vector<std::size_t> order(fully_by_row.rows());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    const ConstBitSpan one = fully_by_row[a], other = fully_by_row[b];
    return std::lexicographical_compare(one.begin(), one.end(), other.begin(), other.end());
  });
  std::vector<std::size_t> first(order.size());  // of each row, the first row equal to it
  for (std::size_t i = 0; i < order.size(); ++i) {
    const bool as_before = i > 0 && is_equal(fully_by_row[order[i]], fully_by_row[order[i - 1]]);
    first[order[i]] = as_before ? first[order[i - 1]] : order[i];
  }

  std::vector<std::size_t> number(order.size());
  std::vector<std::size_t> firsts;
  weight.clear();
  for (std::size_t row = 0; row < first.size(); ++row) {
    if (count_bits(fully_by_row[row]) == 0) continue;
    if (first[row] == row) {
      number[row] = firsts.size();
      firsts.push_back(row);
      weight.push_back(0);
    }
    weight[number[first[row]]] += row_weight[row];
  }
  BitMatrix by_class(firsts.size(), fully_by_row.bits());
  for (std::size_t c = 0; c < firsts.size(); ++c) {
    const ConstBitSpan row = fully_by_row[firsts[c]];
    std::copy(row.begin(), row.end(), by_class[c].begin());
  }
  fully = by_class.transposed();
}

}  // namespace standpoint
