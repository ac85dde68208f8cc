#include "planner/cover/cover_bounds.h"

#include <algorithm>
#include <numeric>

namespace standpoint {
namespace {

/// Of all rows. A shared row needs one of the columns that have touches of it; where none covers it
/// by itself, two.
std::vector<RowNeed> row_needs(const CoverCore& core) {
  std::vector<RowNeed> needs;
  const BitMatrix by_row = core.covers.transposed();
  for (std::size_t row = 0; row < by_row.rows(); ++row) {
    if (core.need[row] == 0) continue;
    const ConstBitSpan columns = by_row[row];
    needs.push_back({{columns.begin(), columns.end()}, count_bits(columns), core.need[row]});
  }
  for (const SharedRow& row : core.shared.rows) {
    if (!row.is_needed) continue;
    RowNeed need{std::vector<BitWord>(words_for(core.size()), 0), 0, 2};
    for (std::uint32_t c = 0; c < core.size(); ++c) {
      const ConstBitSpan own = core.shared.touched[c];
      const bool has_any = std::any_of(row.ways.begin(), row.ways.end(), [&](const auto& way) {
        return count_bits(own.subspan(way.first, words_for(way.touches))) > 0;
      });
      if (!has_any) continue;
      set_bit(need.columns, c);
      ++need.size;
      if (need.need == 2 && is_met(row, own)) need.need = 1;
    }
    needs.push_back(std::move(need));
  }
  return needs;
}

/// The least that so many of these columns cost.
int cheapest(const CoverCore& core, const RowNeed& need) {
  std::vector<int> cost;
  for_each_bit(need.columns, [&](std::size_t c) { cost.push_back(core.cost[c]); });
  std::sort(cost.begin(), cost.end());
  int sum = 0;
  for (std::size_t i = 0; i < std::min(cost.size(), static_cast<std::size_t>(need.need)); ++i)
    sum += cost[i];
  return sum;
}

int apart_rows(const CoverCore& core, std::vector<RowNeed> needs) {
  std::stable_sort(needs.begin(), needs.end(),
                   [](const RowNeed& a, const RowNeed& b) { return a.size < b.size; });
  std::vector<BitWord> taken(words_for(core.size()), 0);
  int sum = 0;
  for (const RowNeed& row : needs) {
    if (count_common(taken, row.columns) > 0) continue;
    sum += cheapest(core, row);
    for (std::size_t w = 0; w < taken.size(); ++w) taken[w] |= row.columns[w];
  }
  return sum;
}

/// The least cost of columns, the last of them perhaps a part only, that have as many rows as are
/// needed. Rounded up: costs are whole. `open` says which columns are still to be paid for.
int largest_columns(const CoverCore& core, const std::vector<char>& open) {
  struct Offer {
    long long rows = 0, cost = 1;
  };
  std::vector<Offer> offers;
  for (std::size_t c = 0; c < core.size(); ++c) {
    const auto rows = static_cast<long long>(count_bits(core.covers[c]));
    if (rows > 0 && open[c] != 0) offers.push_back({rows, core.cost[c]});
  }
  std::stable_sort(offers.begin(), offers.end(), [](const Offer& a, const Offer& b) {
    return a.rows * b.cost > b.rows * a.cost;
  });
  long long left = std::accumulate(core.need.begin(), core.need.end(), 0LL);
  long long cost = 0;
  for (const Offer& offer : offers) {
    if (left <= 0) break;
    const long long part = std::min(left, offer.rows);
    cost += (part * offer.cost + offer.rows - 1) / offer.rows;
    left -= part;
  }
  return static_cast<int>(cost);
}

bool has_forced_touch(const CoverCore& core, const SharedRow& row) {
  for (std::uint32_t c = 0; c < core.size(); ++c) {
    if (core.forced[c] == 0) continue;
    for (const SharedRow::Way& way : row.ways) {
      if (count_bits(core.shared.touched[c].subspan(way.first, words_for(way.touches))) > 0)
        return true;
    }
  }
  return false;
}

/// What is left for the columns that are not forced. What forced columns cover may still stand in
/// the needs: it is taken off. Rows that share touches with a forced column tell nothing of the
/// others.
CoverCore without_forced(const CoverCore& core) {
  CoverCore open = core;
  for (std::uint32_t c = 0; c < core.size(); ++c) {
    if (core.forced[c] == 0) continue;
    for_each_bit(core.covers[c], [&](std::size_t row) { --open.need[row]; });
    const BitSpan done = open.covers[c];
    std::fill(done.begin(), done.end(), BitWord{0});
  }
  for (int& need : open.need) need = std::max(need, 0);
  for (SharedRow& row : open.shared.rows) {
    row.is_needed = row.is_needed && !has_forced_touch(core, row);
  }
  return open;
}

}  // namespace

std::vector<RowNeed> open_needs(const CoverCore& core) {
  return row_needs(without_forced(core));
}

int least_cost(const CoverCore& core) {
  int forced = 0;
  std::vector<char> is_open(core.size(), 1);
  for (std::uint32_t c = 0; c < core.size(); ++c) {
    if (core.forced[c] == 0) continue;
    forced += core.cost[c];
    is_open[c] = 0;
  }
  const CoverCore open = without_forced(core);
  return forced + std::max(apart_rows(open, row_needs(open)), largest_columns(open, is_open));
}

}  // namespace standpoint
