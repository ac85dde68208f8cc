#include "planner/cover/cover_reduce.h"

#include <algorithm>
#include <numeric>

namespace standpoint {
namespace {

Columns all_columns(const CoverCore& core) {
  Columns all(core.size());
  std::iota(all.begin(), all.end(), 0U);
  return all;
}

/// The columns of a core in the order in which they can dominate one another: a column never comes
/// before one that dominates it without being dominated by it.
Columns in_order_of_dominance(const CoverCore& core) {
  std::vector<std::size_t> size(core.size()), by_stylus(core.size(), 0);
  for (std::size_t c = 0; c < core.size(); ++c) {
    size[c] = count_bits(core.covers[c]) + count_bits(core.fully[c]);
    if (core.shared.empty()) continue;
    const std::size_t fully = count_bits(core.shared.alone_fully[c]);
    size[c] += count_bits(core.shared.touched[c]) + fully;
    by_stylus[c] = count_bits(core.shared.alone[c]) - fully;
  }
  Columns order = all_columns(core);
  std::stable_sort(order.begin(), order.end(), [&](std::uint32_t a, std::uint32_t b) {
    if (size[a] != size[b]) return size[a] > size[b];
    if (core.cost[a] != core.cost[b]) return core.cost[a] < core.cost[b];
    if (by_stylus[a] != by_stylus[b]) return by_stylus[a] < by_stylus[b];
    return core.graph && core.graph->degree(a) > core.graph->degree(b);
  });
  return order;
}

bool is_dominated(const CoverCore& core, std::uint32_t column, std::uint32_t by, Aim aim) {
  return core.cost[by] <= core.cost[column] && is_subset(core.covers[column], core.covers[by]) &&
         is_subset(core.fully[column], core.fully[by]) &&
         (core.shared.empty() ||
          is_shared_no_better(core.shared, column, by, aim == Aim::full_rows)) &&
         (!core.graph || core.graph->is_linked_no_better(column, by));
}

/// A column that covers nothing any more serves only to tie; not even that beside a forced one.
bool is_useless(const CoverCore& core, std::uint32_t column, const Columns& forced) {
  if (count_bits(core.covers[column]) != 0) return false;
  if (!core.shared.empty() && (count_bits(core.shared.touched[column]) != 0 ||
                               count_bits(core.shared.alone_fully[column]) != 0)) {
    return false;
  }
  if (!core.graph) return true;
  return std::any_of(forced.begin(), forced.end(),
                     [&](std::uint32_t by) { return core.graph->is_linked_no_better(column, by); });
}

Columns forced_columns(const CoverCore& core) {
  Columns forced;
  for (std::uint32_t c = 0; c < core.size(); ++c) {
    if (core.forced[c] != 0) forced.push_back(c);
  }
  return forced;
}

/// The shared rows that must be met, or that the aim asks about.
std::vector<char> shared_rows_kept(const SharedRows& shared, Aim aim) {
  std::vector<char> kept(shared.rows.size());
  for (std::size_t row = 0; row < kept.size(); ++row) {
    const std::vector<SharedRow::Way>& ways = shared.rows[row].ways;
    bool can_be_full =
        std::any_of(ways.begin(), ways.end(), [](const auto& w) { return w.is_full; });
    for (std::size_t c = 0; c < shared.alone_fully.rows() && !can_be_full; ++c)
      can_be_full = has_bit(shared.alone_fully[c], row);
    kept[row] =
        static_cast<char>(shared.rows[row].is_needed || (aim == Aim::full_rows && can_be_full));
  }
  return kept;
}

/// The core of some columns and rows, in their order, with full rows joined anew.
CoverCore part_of(const CoverCore& core, const Columns& columns, const std::vector<char>& row_kept,
                  Aim aim) {
  CoverCore part;
  part.shared =
      part_of(core.shared, columns, shared_rows_kept(core.shared, aim), aim == Aim::full_rows);
  std::vector<std::size_t> number(core.need.size(), 0);
  for (std::size_t row = 0; row < core.need.size(); ++row) {
    if (row_kept[row] == 0) continue;
    number[row] = part.need.size();
    part.need.push_back(core.need[row]);
  }
  part.covers = BitMatrix(columns.size(), part.need.size());
  BitMatrix fully(columns.size(), core.weight.size());
  for (std::size_t i = 0; i < columns.size(); ++i) {
    part.names.push_back(core.names[columns[i]]);
    part.cost.push_back(core.cost[columns[i]]);
    part.forced.push_back(core.forced[columns[i]]);
    for_each_bit(core.covers[columns[i]], [&](std::size_t row) {
      if (row_kept[row] != 0) set_bit(part.covers[i], number[row]);
    });
    const ConstBitSpan row = core.fully[columns[i]];
    std::copy(row.begin(), row.end(), fully[i].begin());
  }
  join_equal_rows(fully.transposed(), core.weight, part.fully, part.weight);
  if (core.graph) {
    part.graph = core.graph->restricted_to(columns);
    if (part.graph->is_complete()) part.graph.reset();
  }
  return part;
}

/// The touches that forced columns have are taken from all others, and what they meet needs no
/// more. The forced ones keep theirs: every choice holds them, so it has the same as before.
void take_touches_off(SharedRows& shared, const Columns& forced,
                      const std::vector<char>& is_forced) {
  const std::vector<BitWord> touches = touched_together(shared, forced);
  for (SharedRow& row : shared.rows) row.is_needed = row.is_needed && !is_met(row, touches);
  for (std::size_t c = 0; c < shared.touched.rows(); ++c) {
    if (is_forced[c] != 0) continue;
    const BitSpan own = shared.touched[c];
    for (std::size_t w = 0; w < own.size(); ++w) own[w] &= ~touches[w];
  }
}

/// Forces the columns of rows that no more columns cover than are needed; takes what forced columns
/// cover off the needs and the full rows. Forcing takes as much off a row's need as off the columns
/// left to it, so one pass finds all scarce rows.
CoverCore with_forced_taken_off(const CoverCore& core, Aim aim) {
  CoverCore result = core;
  const BitMatrix by_row = core.covers.transposed();
  for (std::size_t row = 0; row < by_row.rows(); ++row) {
    if (static_cast<int>(count_bits(by_row[row])) > core.need[row]) continue;
    for_each_bit(by_row[row], [&](std::size_t column) { result.forced[column] = 1; });
  }
  for (const std::uint32_t column : necessary_columns(core.shared)) result.forced[column] = 1;
  if (!core.shared.empty()) take_touches_off(result.shared, forced_columns(result), result.forced);
  std::vector<BitWord> full(words_for(core.weight.size()), 0);
  for (const std::uint32_t column : forced_columns(result)) {
    for_each_bit(core.covers[column], [&](std::size_t row) { --result.need[row]; });
    const BitSpan done = result.covers[column];
    std::fill(done.begin(), done.end(), BitWord{0});
    for (std::size_t w = 0; w < full.size(); ++w) full[w] |= core.fully[column][w];
  }
  for (std::size_t c = 0; c < core.size(); ++c) {
    for (std::size_t w = 0; w < full.size(); ++w) result.fully[c][w] &= ~full[w];
  }
  std::vector<char> row_kept(core.need.size());
  for (std::size_t row = 0; row < row_kept.size(); ++row) row_kept[row] = result.need[row] > 0;
  return part_of(result, all_columns(result), row_kept, aim);
}

/// The rows that no other row implies: r is implied where every column that covers r' covers r, and
/// r' needs as many.
std::vector<char> needed_rows(const CoverCore& core) {
  const BitMatrix by_row = core.covers.transposed();
  std::vector<std::size_t> size(by_row.rows());
  for (std::size_t row = 0; row < size.size(); ++row) size[row] = count_bits(by_row[row]);
  std::vector<std::size_t> order(size.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return size[a] != size[b] ? size[a] < size[b] : core.need[a] > core.need[b];
  });
  std::vector<char> kept(size.size(), 0);
  std::vector<std::size_t> before;
  for (const std::size_t row : order) {
    const bool is_implied = std::any_of(before.begin(), before.end(), [&](std::size_t other) {
      return core.need[other] >= core.need[row] && is_subset(by_row[other], by_row[row]);
    });
    if (is_implied) continue;
    kept[row] = 1;
    before.push_back(row);
  }
  return kept;
}

/// The columns that are forced or that fewer others dominate than could be needed together.
Columns needed_columns(const CoverCore& core, Aim aim) {
  const Columns forced = forced_columns(core);
  Columns kept = forced, before;
  for (const std::uint32_t column : in_order_of_dominance(core)) {
    if (core.forced[column] != 0 || is_useless(core, column, forced)) continue;
    int threshold = 1;
    for_each_bit(core.covers[column],
                 [&](std::size_t row) { threshold = std::max(threshold, core.need[row]); });
    for (const std::uint32_t other : before) {
      if (is_dominated(core, column, other, aim) && --threshold == 0) break;
    }
    if (threshold == 0) continue;
    before.push_back(column);
    kept.push_back(column);
  }
  std::sort(kept.begin(), kept.end());
  return kept;
}

}  // namespace

CoverCore reduced(const CoverCore& core, Aim aim) {
  CoverCore result = core;
  if (aim == Aim::count) {
    result.fully = BitMatrix(core.size(), 0);
    result.weight.clear();
  }
  // Only lost columns can make a row scarce or imply another one, so a pass without any is the
  // last.
  for (bool has_lost_columns = true; has_lost_columns;) {
    result = with_forced_taken_off(result, aim);
    result = part_of(result, all_columns(result), needed_rows(result), aim);
    const Columns columns = needed_columns(result, aim);
    has_lost_columns = columns.size() < result.size();
    if (has_lost_columns) {
      result = part_of(result, columns, std::vector<char>(result.need.size(), 1), aim);
    }
  }
  return result;
}

}  // namespace standpoint
