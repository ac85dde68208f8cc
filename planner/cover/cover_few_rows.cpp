#include "planner/cover/cover_few_rows.h"

#include <algorithm>
#include <limits>
#include <numeric>

namespace standpoint {
namespace {

/// Of each column, the rows that have it.
BitMatrix rows_of_columns(const std::vector<const RowNeed*>& rows, std::size_t columns) {
  BitMatrix covers(columns, rows.size());
  for (std::size_t row = 0; row < rows.size(); ++row) {
    for_each_bit(rows[row]->columns, [&](std::size_t c) { set_bit(covers[c], row); });
  }
  return covers;
}

/// The columns that have rows, those with most first; of equally many the cheapest, then those of
/// equal rows side by side. None comes before one that dominates it, unless they are equal.
Columns in_order(const BitMatrix& covers, const std::vector<int>& cost) {
  std::vector<std::size_t> size(covers.rows());
  Columns order;
  for (std::uint32_t c = 0; c < covers.rows(); ++c) {
    size[c] = count_bits(covers[c]);
    if (size[c] > 0) order.push_back(c);
  }
  std::sort(order.begin(), order.end(), [&](std::uint32_t a, std::uint32_t b) {
    if (size[a] != size[b]) return size[a] > size[b];
    if (cost[a] != cost[b]) return cost[a] < cost[b];
    const ConstBitSpan one = covers[a], other = covers[b];
    if (!is_equal(one, other))
      return std::lexicographical_compare(one.begin(), one.end(), other.begin(), other.end());
    return a < b;
  });
  return order;
}

/// The columns that stay: a column goes where as many of those that stay have all its rows and cost
/// no more as the greatest need among its rows.
Columns undominated(const std::vector<const RowNeed*>& rows, const BitMatrix& covers,
                    const std::vector<int>& cost) {
  Columns kept;
  std::uint32_t last = UINT32_MAX;  // whose equals go
  for (const std::uint32_t c : in_order(covers, cost)) {
    if (last != UINT32_MAX && cost[last] <= cost[c] && is_equal(covers[last], covers[c])) continue;
    int most_needed = 1;
    for_each_bit(covers[c],
                 [&](std::size_t row) { most_needed = std::max(most_needed, rows[row]->need); });
    int dominators = 0;
    for (const std::uint32_t by : kept) {
      if (cost[by] > cost[c] || !is_subset(covers[c], covers[by])) continue;
      if (++dominators == most_needed) break;
    }
    if (dominators < most_needed) {
      kept.push_back(c);
      ++dominators;
    }
    if (dominators == most_needed) last = c;
  }
  std::sort(kept.begin(), kept.end());
  return kept;
}

}  // namespace

FewRows::FewRows(const std::vector<const RowNeed*>& rows, const std::vector<int>& cost) {
  const BitMatrix all = rows_of_columns(rows, cost.size());
  names_ = undominated(rows, all, cost);
  covers_ = BitMatrix(names_.size(), rows.size());
  for (std::size_t i = 0; i < names_.size(); ++i) {
    const ConstBitSpan from = all[names_[i]];
    std::copy(from.begin(), from.end(), covers_[i].begin());
    cost_.push_back(cost[names_[i]]);
  }
  by_row_ = covers_.transposed();
  for (std::size_t row = 0; row < rows.size(); ++row) {
    need_.push_back(rows[row]->need);
    cheapest_.push_back(std::numeric_limits<int>::max());
    for_each_bit(by_row_[row],
                 [&](std::size_t c) { cheapest_[row] = std::min(cheapest_[row], cost_[c]); });
  }
  if (!cost_.empty()) cheapest_of_all_ = *std::min_element(cost_.begin(), cost_.end());
}

/// Branches on the open row that the fewest columns have. A column tried at a branch is kept out of
/// the branches after it.
class FewRows::Search {
 public:
  Search(const FewRows& few, int enough, int below, long long& steps)
      : few_(few), enough_(enough), below_(below), steps_(steps), need_(few.need_) {}

  Answer answer() {
    std::vector<BitWord> allowed(words_for(few_.size()), 0);
    for (std::size_t c = 0; c < few_.size(); ++c) set_bit(allowed, c);
    branch(std::move(allowed), 0);
    if (steps_ < 0) return {};
    if (!has_any_) return {State::none, {}, 0};
    Answer answer{State::found, {}, below_};
    for (const std::uint32_t c : best_) answer.columns.push_back(few_.names_[c]);
    std::sort(answer.columns.begin(), answer.columns.end());
    return answer;
  }

 private:
  struct OpenRow {
    std::size_t row = 0, left = 0;  ///< columns that may still be chosen
  };

  [[nodiscard]] bool is_done() const { return steps_ < 0 || (has_any_ && below_ <= enough_); }

  /// The open rows, those with the fewest columns first. Nothing where one of them has too few.
  std::optional<std::vector<OpenRow>> open_rows(ConstBitSpan allowed) const {
    std::vector<OpenRow> open;
    for (std::size_t row = 0; row < need_.size(); ++row) {
      if (need_[row] <= 0) continue;
      open.push_back({row, count_common(few_.by_row_[row], allowed)});
      if (open.back().left < static_cast<std::size_t>(need_[row])) return std::nullopt;
    }
    std::stable_sort(open.begin(), open.end(),
                     [](const OpenRow& a, const OpenRow& b) { return a.left < b.left; });
    return open;
  }

  /// Open rows that have no column in common must be paid for each.
  [[nodiscard]] long long apart(const std::vector<OpenRow>& open, ConstBitSpan allowed) const {
    std::vector<BitWord> used(allowed.size(), 0);
    long long sum = 0;
    for (const OpenRow& o : open) {
      const ConstBitSpan columns = few_.by_row_[o.row];
      bool is_apart = true;
      for (std::size_t w = 0; w < used.size() && is_apart; ++w)
        is_apart = (columns[w] & allowed[w] & used[w]) == 0;
      if (!is_apart) continue;
      sum += static_cast<long long>(few_.cheapest_[o.row]) * need_[o.row];
      for (std::size_t w = 0; w < used.size(); ++w) used[w] |= columns[w] & allowed[w];
    }
    return sum;
  }

  /// How many open rows each column has that may be chosen.
  std::vector<std::size_t> gains(const std::vector<OpenRow>& open, ConstBitSpan allowed) const {
    std::vector<BitWord> rows(words_for(need_.size()), 0);
    for (const OpenRow& o : open) set_bit(rows, o.row);
    std::vector<std::size_t> gain(few_.size(), 0);
    for_each_bit(allowed, [&](std::size_t c) { gain[c] = count_common(few_.covers_[c], rows); });
    return gain;
  }

  /// No columns meet the open rows for less, as none has more of them than `most`.
  [[nodiscard]] long long largest(const std::vector<OpenRow>& open, std::size_t most) const {
    long long left = 0;
    for (const OpenRow& o : open) left += need_[o.row];
    const auto each = static_cast<long long>(most);
    return (left + each - 1) / each * few_.cheapest_of_all_;
  }

  void take(std::uint32_t column, int change) {
    for_each_bit(few_.covers_[column], [&](std::size_t row) { need_[row] -= change; });
  }

  void branch(std::vector<BitWord> allowed, int cost) {
    if (--steps_ < 0) return;
    const auto open = open_rows(allowed);
    if (!open) return;
    if (cost >= below_) return;
    if (open->empty()) {
      has_any_ = true;
      best_ = chosen_;
      below_ = cost;
      return;
    }
    if (cost + apart(*open, allowed) >= below_) return;
    const std::vector<std::size_t> gain = gains(*open, allowed);
    const std::size_t most = *std::max_element(gain.begin(), gain.end());
    if (cost + largest(*open, most) >= below_) return;

    const std::size_t row = open->front().row;
    std::size_t left = open->front().left;
    Columns columns;
    for_each_bit(few_.by_row_[row], [&](std::size_t c) {
      if (has_bit(allowed, c)) columns.push_back(static_cast<std::uint32_t>(c));
    });
    std::stable_sort(columns.begin(), columns.end(), [&](std::uint32_t a, std::uint32_t b) {
      return gain[a] * static_cast<std::size_t>(few_.cost_[b]) >
             gain[b] * static_cast<std::size_t>(few_.cost_[a]);
    });
    for (const std::uint32_t c : columns) {
      if (left-- < static_cast<std::size_t>(need_[row])) return;
      clear_bit(allowed, c);
      if (cost + few_.cost_[c] >= below_) continue;
      take(c, 1);
      chosen_.push_back(c);
      branch(allowed, cost + few_.cost_[c]);
      chosen_.pop_back();
      take(c, -1);
      if (is_done()) return;
    }
  }

  const FewRows& few_;
  int enough_;
  int below_;  ///< what a choice must cost less than; the cost of the best, where there is any
  long long& steps_;
  std::vector<int> need_;  ///< that is left of each row
  Columns chosen_, best_;
  bool has_any_ = false;
};

FewRows::Answer FewRows::cheapest(int enough, int below, long long& steps) const {
  return Search(*this, enough, below, steps).answer();
}

FewRows::Answer FewRows::cheapest_by_solver(int enough, int below, double time_limit_s) const {
  if (need_.empty()) return {below > 0 ? State::found : State::none, {}, 0};
  BinaryProgram program;
  BinaryProgram::Terms costs;
  for (std::uint32_t c = 0; c < size(); ++c) {
    program.add_variable(cost_[c]);
    costs.push_back({c, cost_[c]});
  }
  for (std::size_t row = 0; row < need_.size(); ++row) {
    BinaryProgram::Terms terms;
    for_each_bit(by_row_[row], [&](std::size_t c) {
      terms.push_back({static_cast<std::uint32_t>(c), 1});
    });
    program.add_row(std::move(terms), need_[row], BinaryProgram::kNoBound);
  }
  program.add_row(std::move(costs), enough, below - 1);
  const int greatest = cost_.empty() ? 1 : *std::max_element(cost_.begin(), cost_.end());
  const BinaryProgram::Outcome outcome = program.minimise(time_limit_s, greatest);
  if (outcome.state == BinaryProgram::State::infeasible) return {State::none, {}, 0};
  if (outcome.state != BinaryProgram::State::optimal || !outcome.values) return {};
  Answer answer{State::found, {}, 0};
  for (std::uint32_t c = 0; c < size(); ++c) {
    if ((*outcome.values)[c] == 0) continue;
    answer.columns.push_back(names_[c]);
    answer.cost += cost_[c];
  }
  return answer;
}

}  // namespace standpoint
