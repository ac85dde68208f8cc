#include "planner/cover/cover_telling_rows.h"

#include <algorithm>

#include "planner/cover/cover_cuts.h"
#include "planner/cover/cover_few_rows.h"
#include "planner/cover/cover_start.h"
#include "planner/cover/cover_ties.h"

namespace standpoint {
namespace {

/// Branches in all, some microseconds each: what is not decided by then is for the solver.
constexpr long long kSteps = 100000;
constexpr int kMostRounds = 400;
/// Rows that a round adds: fewer take more rounds, more make the problems larger than need be.
constexpr std::size_t kRowsOfRound = 4;

class Search {
 public:
  Search(const CoverCore& core, int bound, int below, CoverBudget& budget)
      : core_(core), budget_(budget), below_(below), rows_(open_needs(core)) {
    result_.bound = bound;
    for (std::uint32_t c = 0; c < core.size(); ++c) {
      if (core.forced[c] == 0) continue;
      forced_.push_back(c);
      base_ += core.cost[c];
    }
    is_taken_.assign(rows_.size(), 0);
    order_.resize(rows_.size());
    for (std::size_t row = 0; row < rows_.size(); ++row) order_[row] = row;
    std::stable_sort(order_.begin(), order_.end(),
                     [&](std::size_t a, std::size_t b) { return rows_[a].size < rows_[b].size; });
    take_some(order_, rows_.size());
  }

  TellingRows result() {
    for (int round = 0; round < kMostRounds && result_.bound < below_ && !budget_.is_over();
         ++round) {
      if (!go_on()) break;
    }
    result_.bound = std::min(result_.bound, below_);
    result_.rows = taken_.size();
    return std::move(result_);
  }

 private:
  /// Of these rows, the rarest first, those that have no column in common, and the first ones up to
  /// `kRowsOfRound` in all; at most `most`.
  void take_some(const std::vector<std::size_t>& rows, std::size_t most) {
    std::vector<BitWord> used(words_for(core_.size()), 0);
    std::size_t taken = 0;
    for (const bool only_apart : {true, false}) {
      for (const std::size_t row : rows) {
        if (taken == most || (!only_apart && taken >= kRowsOfRound)) break;
        if (is_taken_[row] != 0) continue;
        if (only_apart && count_common(used, rows_[row].columns) > 0) continue;
        is_taken_[row] = 1;
        taken_.push_back(row);
        ++taken;
        for (std::size_t w = 0; w < used.size(); ++w) used[w] |= rows_[row].columns[w];
      }
    }
  }

  /// Solves the rows taken so far. False where that is the end.
  bool go_on() {
    std::vector<const RowNeed*> few;
    for (const std::size_t row : taken_) few.push_back(&rows_[row]);
    const FewRows problem(few, core_.cost);
    const int enough = result_.bound - base_, below = below_ - base_;
    FewRows::Answer answer = problem.cheapest(enough, below, steps_);
    if (answer.state == FewRows::State::given_up) {
      // The solver is worth it only where the problem is far smaller than the whole.
      if (2 * taken_.size() > rows_.size() || 2 * problem.size() > core_.size()) return false;
      steps_ = 0;
      answer = problem.cheapest_by_solver(enough, below, budget_.left_s());
    }
    if (answer.state == FewRows::State::given_up) return false;
    if (answer.state == FewRows::State::none) {
      result_.bound = below_;
      return false;
    }
    result_.bound = std::max(result_.bound, base_ + answer.cost);
    Columns choice = forced_;
    choice.insert(choice.end(), answer.columns.begin(), answer.columns.end());
    std::sort(choice.begin(), choice.end());
    if (add_missed(choice)) {
      offer(completed_choice(core_, choice));
      return true;
    }
    if (add_cuts(choice)) return true;
    if (is_enough(core_, choice) && is_connected(core_, choice)) offer(choice);
    return false;
  }

  void offer(const Columns& choice) {
    const int cost = cost_of(core_, choice);
    if (cost >= below_) return;
    below_ = cost;
    result_.better = choice;
  }

  /// Whether the choice misses rows.
  bool add_missed(const Columns& choice) {
    std::vector<BitWord> set(words_for(core_.size()), 0);
    for (const std::uint32_t c : choice) set_bit(set, c);
    std::vector<std::size_t> missed;
    for (const std::size_t row : order_) {
      if (is_taken_[row] == 0 &&
          count_common(rows_[row].columns, set) < static_cast<std::size_t>(rows_[row].need))
        missed.push_back(row);
    }
    take_some(missed, kRowsOfRound);
    return !missed.empty();
  }

  /// Whether there are plain rows among the cuts that the choice breaks: of shared rows that it
  /// leaves open all are, of ties some.
  bool add_cuts(const Columns& choice) {
    std::vector<ColumnCut> cuts = open_row_cuts(core_, choice);
    if (cuts.empty() && !is_connected(core_, choice)) cuts = broken_ties(core_, choice);
    bool has_any = false;
    for (const ColumnCut& cut : cuts) {
      if (!cut.minus.empty()) continue;
      RowNeed row{std::vector<BitWord>(words_for(core_.size()), 0), cut.plus.size(), cut.at_least};
      for (const std::uint32_t c : cut.plus) set_bit(row.columns, c);
      taken_.push_back(rows_.size());
      is_taken_.push_back(1);
      rows_.push_back(std::move(row));
      has_any = true;
    }
    return has_any;
  }

  const CoverCore& core_;
  CoverBudget& budget_;
  TellingRows result_;
  int below_;
  int base_ = 0;  ///< what forced columns cost
  Columns forced_;
  std::vector<RowNeed> rows_;
  std::vector<std::size_t> order_;  ///< of the rows that are there from the start: rarest first
  std::vector<char> is_taken_;
  std::vector<std::size_t> taken_;
  long long steps_ = kSteps;
};

}  // namespace

TellingRows bound_by_telling_rows(const CoverCore& core, int bound, int below,
                                  CoverBudget& budget) {
  return Search(core, bound, below, budget).result();
}

}  // namespace standpoint
