#include "planner/cover/cover_start.h"

#include <algorithm>
#include <numeric>
#include <utility>

namespace standpoint {
namespace {

/// Random numbers that are the same everywhere (SplitMix64; Steele, Lea & Flood, OOPSLA 2014).
class Dice {
 public:
  std::uint64_t next() {
    std::uint64_t z = state_ += 0x9E3779B97F4A7C15U;
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9U;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBU;
    return z ^ (z >> 31);
  }

 private:
  std::uint64_t state_ = 1;
};

/// Grows a connected choice column by column.
class Growth {
 public:
  explicit Growth(const CoverCore& core)
      : core_(core),
        open_need_(core.need),
        open_(words_for(core.need.size()), 0),
        touches_(words_for(core.shared.touched.bits()), 0),
        in_(core.size(), 0),
        forced_left_(std::count(core.forced.begin(), core.forced.end(), 1)) {
    for (std::size_t row = 0; row < core.need.size(); ++row) set_bit(open_, row);
    for (const SharedRow& row : core.shared.rows) {
      if (row.is_needed) open_shared_.push_back(&row);
    }
  }

  void add(std::uint32_t column) {
    if (in_[column] != 0) return;
    in_[column] = 1;
    chosen_.push_back(column);
    if (core_.forced[column] != 0) --forced_left_;
    for_each_bit(core_.covers[column], [&](std::size_t row) {
      if (--open_need_[row] == 0) clear_bit(open_, row);
    });
    if (open_shared_.empty()) return;
    const ConstBitSpan own = core_.shared.touched[column];
    for (std::size_t w = 0; w < own.size(); ++w) touches_[w] |= own[w];
    std::erase_if(open_shared_, [&](const SharedRow* row) { return is_met(*row, touches_); });
  }

  /// Adds columns until the choice is enough. Of equally good columns `dice` takes one.
  void finish(Dice& dice) {
    while (!is_done()) {
      const std::vector<char> beside = beside_chosen();
      const auto best = most_useful(beside, dice);
      if (best) {
        add(*best);
      } else {
        walk_to_useful();
      }
    }
  }

  [[nodiscard]] Columns chosen() const {
    Columns sorted = chosen_;
    std::sort(sorted.begin(), sorted.end());
    return sorted;
  }

 private:
  [[nodiscard]] bool is_done() const {
    return forced_left_ == 0 && count_bits(open_) == 0 && open_shared_.empty();
  }

  [[nodiscard]] std::vector<char> beside_chosen() const {
    if (!core_.graph || chosen_.empty()) return std::vector<char>(core_.size(), 1);
    return core_.graph->neighbours(chosen_);
  }

  [[nodiscard]] bool is_useful(std::uint32_t column) const {
    return in_[column] == 0 && (core_.forced[column] != 0 || gain(column) > 0);
  }

  /// How many open rows a column covers; of a shared row the share of its touches that come anew,
  /// by the way that gets most.
  [[nodiscard]] double gain(std::uint32_t column) const {
    auto sum = static_cast<double>(count_common(core_.covers[column], open_));
    for (const SharedRow* row : open_shared_) {
      double most = 0;
      for (const SharedRow::Way& way : row->ways) {
        std::size_t fresh = 0;
        for (std::size_t w = way.first; w < way.first + words_for(way.touches); ++w) {
          const BitWord word = core_.shared.touched[column][w] & ~touches_[w];
          fresh += static_cast<std::size_t>(std::popcount(word));
        }
        most = std::max(most, static_cast<double>(fresh) / static_cast<double>(way.touches));
      }
      sum += most;
    }
    return sum;
  }

  [[nodiscard]] std::optional<std::uint32_t> most_useful(const std::vector<char>& beside,
                                                         Dice& dice) const {
    std::optional<std::uint32_t> best;
    std::pair<double, std::uint64_t> best_rank{0, 0};
    for (std::uint32_t c = 0; c < core_.size(); ++c) {
      if (in_[c] != 0 || beside[c] == 0) continue;
      if (core_.forced[c] != 0) return c;
      const double gained = gain(c);
      if (gained == 0) continue;
      const std::pair<double, std::uint64_t> rank{gained / core_.cost[c], dice.next() >> 32};
      if (best && rank <= best_rank) continue;
      best = c;
      best_rank = rank;
    }
    return best;
  }

  /// Nothing beside the choice helps: the shortest chain to a column that does.
  void walk_to_useful() {
    const std::vector<char> allowed(core_.size(), 1);
    LinkGraph::Walk walk(*core_.graph, allowed);
    for (const std::uint32_t column : chosen_) walk.begin_at(column);
    while (const auto column = walk.next()) {
      if (!is_useful(*column)) continue;
      for (std::uint32_t c = *column; c != LinkGraph::kNone; c = walk.came_from(c)) add(c);
      return;
    }
    assert(false && "a core is connected and its columns are enough");
  }

  const CoverCore& core_;
  std::vector<int> open_need_;
  std::vector<BitWord> open_;
  std::vector<const SharedRow*> open_shared_;
  std::vector<BitWord> touches_;
  std::vector<char> in_;
  std::ptrdiff_t forced_left_;
  Columns chosen_;
};

/// What a column has, in rows and touches, for its cost.
double worth_of(const CoverCore& core, std::uint32_t column) {
  std::size_t size = count_bits(core.covers[column]);
  if (!core.shared.empty()) size += count_bits(core.shared.touched[column]);
  return static_cast<double>(size) / std::max(1, core.cost[column]);
}

/// Takes columns out as long as the rest is connected and enough, those that cover least for their
/// cost first.
Columns thinned(const CoverCore& core, const Columns& choice) {
  std::vector<int> spare(core.need.size());
  for (std::size_t row = 0; row < spare.size(); ++row) spare[row] = -core.need[row];
  for (const std::uint32_t column : choice) {
    for_each_bit(core.covers[column], [&](std::size_t row) { ++spare[row]; });
  }
  Columns order = choice;
  std::stable_sort(order.begin(), order.end(), [&](std::uint32_t a, std::uint32_t b) {
    return worth_of(core, a) < worth_of(core, b);
  });
  Columns rest = choice;
  for (const std::uint32_t column : order) {
    if (core.forced[column] != 0) continue;
    bool is_needed = false;
    for_each_bit(core.covers[column], [&](std::size_t row) { is_needed |= spare[row] == 0; });
    if (is_needed) continue;
    Columns without;
    std::copy_if(rest.begin(), rest.end(), std::back_inserter(without),
                 [&](std::uint32_t c) { return c != column; });
    if (!is_connected(core, without)) continue;
    if (!core.shared.empty() && !are_met(core.shared, touched_together(core.shared, without)))
      continue;
    for_each_bit(core.covers[column], [&](std::size_t row) { --spare[row]; });
    rest = std::move(without);
  }
  return rest;
}

/// Grown from a connected start.
Columns grown(const CoverCore& core, const Columns& start, Dice& dice) {
  Growth growth(core);
  for (const std::uint32_t column : start) growth.add(column);
  growth.finish(dice);
  return thinned(core, growth.chosen());
}

/// About two thirds of a choice, connected.
Columns remains_of(const CoverCore& core, const Columns& choice, Dice& dice) {
  Columns kept;
  for (const std::uint32_t column : choice) {
    if (dice.next() % 3 != 0) kept.push_back(column);
  }
  if (!core.graph || kept.empty()) return kept;
  const auto parts = core.graph->parts_of(kept);
  return *std::max_element(parts.begin(), parts.end(),
                           [](const auto& a, const auto& b) { return a.size() < b.size(); });
}

/// The exchange of choice[at] for another column that gives the most full weight, if any gives more
/// than `weight`.
std::optional<std::uint32_t> best_exchange(const CoverCore& core, const Columns& choice,
                                           std::size_t at, int weight) {
  Columns rest = choice;
  rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(at));
  std::vector<int> open_need = core.need;
  std::vector<BitWord> open(words_for(core.need.size()), 0), full(words_for(core.weight.size()), 0);
  for (const std::uint32_t column : rest) {
    for_each_bit(core.covers[column], [&](std::size_t row) { --open_need[row]; });
    for (std::size_t w = 0; w < full.size(); ++w) full[w] |= core.fully[column][w];
  }
  for (std::size_t row = 0; row < open_need.size(); ++row) {
    if (open_need[row] > 0) set_bit(open, row);
  }
  std::optional<std::uint32_t> best;
  const int weight_of_rest = class_weight(core, rest);
  for (std::uint32_t c = 0; c < core.size(); ++c) {
    const bool is_chosen = std::find(choice.begin(), choice.end(), c) != choice.end();
    if (is_chosen || core.cost[c] != core.cost[choice[at]]) continue;
    if (!is_subset(open, core.covers[c])) continue;
    int gained = weight_of_rest;
    for (std::size_t w = 0; w < full.size(); ++w) {
      const BitWord more = core.fully[c][w] & ~full[w];
      for_each_bit({&more, 1}, [&](std::size_t bit) { gained += core.weight[w * 64 + bit]; });
    }
    Columns exchanged = rest;
    exchanged.push_back(c);
    if (!core.shared.empty()) {
      if (!are_met(core.shared, touched_together(core.shared, exchanged))) continue;
      gained += count_full(core.shared, exchanged);
    }
    if (gained <= weight || !is_connected(core, exchanged)) continue;
    best = c;
    weight = gained;
  }
  return best;
}

}  // namespace

Columns good_choice(const CoverCore& core, int bound, CoverBudget& budget) {
  constexpr int kAttempts = 300;
  Dice dice;
  Columns start;
  for (std::uint32_t c = 0; c < core.size() && (start.empty() || !core.graph); ++c) {
    if (core.forced[c] != 0) start.push_back(c);
  }
  Columns best = grown(core, start, dice);
  for (int i = 0; i < kAttempts; ++i) {
    if (cost_of(core, best) <= bound || budget.is_over()) break;
    Columns next = grown(core, remains_of(core, best, dice), dice);
    if (cost_of(core, next) <= cost_of(core, best)) best = std::move(next);
  }
  return best;
}

namespace {

/// The parts with the columns of short chains between them.
Columns with_chains(const CoverCore& core, const Columns& parts) {
  Columns joined = parts;
  const std::vector<char> allowed(core.size(), 1);
  while (!is_connected(core, joined)) {
    const Columns first = core.graph->parts_of(joined).front();
    LinkGraph::Walk walk(*core.graph, allowed);
    for (const std::uint32_t column : first) walk.begin_at(column);
    while (const auto column = walk.next()) {
      if (std::binary_search(first.begin(), first.end(), *column) ||
          !std::binary_search(joined.begin(), joined.end(), *column)) {
        continue;
      }
      for (std::uint32_t c = walk.came_from(*column); walk.came_from(c) != LinkGraph::kNone;
           c = walk.came_from(c)) {
        joined.push_back(c);
      }
      break;
    }
    std::sort(joined.begin(), joined.end());
  }
  return joined;
}

}  // namespace

Columns joined_choice(const CoverCore& core, const Columns& parts) {
  return thinned(core, with_chains(core, parts));
}

Columns completed_choice(const CoverCore& core, const Columns& some) {
  Dice dice;
  return grown(core, with_chains(core, some), dice);
}

std::optional<Columns> exchanged_for_more(const CoverCore& core, const Columns& choice, int floor) {
  std::optional<Columns> best;
  for (std::size_t at = 0; at < choice.size(); ++at) {
    if (core.forced[choice[at]] != 0) continue;
    const auto column = best_exchange(core, choice, at, floor);
    if (!column) continue;
    best = choice;
    (*best)[at] = *column;
    floor = full_weight(core, *best);
  }
  if (best) std::sort(best->begin(), best->end());
  return best;
}

Columns with_more_full_rows(const CoverCore& core, Columns choice, CoverBudget& budget) {
  while (!budget.is_over()) {
    auto better = exchanged_for_more(core, choice, full_weight(core, choice));
    if (!better) break;
    choice = std::move(*better);
  }
  return choice;
}

}  // namespace standpoint
