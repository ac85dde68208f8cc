#include "planner/cover/cover_start.h"

#include <algorithm>
#include <numeric>

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
        in_(core.size(), 0),
        forced_left_(std::count(core.forced.begin(), core.forced.end(), 1)) {
    for (std::size_t row = 0; row < core.need.size(); ++row) set_bit(open_, row);
  }

  void add(std::uint32_t column) {
    if (in_[column] != 0) return;
    in_[column] = 1;
    chosen_.push_back(column);
    if (core_.forced[column] != 0) --forced_left_;
    for_each_bit(core_.covers[column], [&](std::size_t row) {
      if (--open_need_[row] == 0) clear_bit(open_, row);
    });
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
  [[nodiscard]] bool is_done() const { return forced_left_ == 0 && count_bits(open_) == 0; }

  [[nodiscard]] std::vector<char> beside_chosen() const {
    if (!core_.graph || chosen_.empty()) return std::vector<char>(core_.size(), 1);
    return core_.graph->neighbours(chosen_);
  }

  [[nodiscard]] bool is_useful(std::uint32_t column) const {
    return in_[column] == 0 &&
           (core_.forced[column] != 0 || count_common(core_.covers[column], open_) > 0);
  }

  [[nodiscard]] std::optional<std::uint32_t> most_useful(const std::vector<char>& beside,
                                                         Dice& dice) const {
    std::optional<std::uint32_t> best;
    std::uint64_t best_rank = 0;
    for (std::uint32_t c = 0; c < core_.size(); ++c) {
      if (in_[c] != 0 || beside[c] == 0) continue;
      if (core_.forced[c] != 0) return c;
      const std::size_t gain = count_common(core_.covers[c], open_);
      if (gain == 0) continue;
      const std::uint64_t rank = (std::uint64_t{gain} << 32) | (dice.next() >> 32);
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
  std::vector<char> in_;
  std::ptrdiff_t forced_left_;
  Columns chosen_;
};

/// Takes columns out as long as the rest is connected and enough, those that cover least first.
Columns thinned(const CoverCore& core, const Columns& choice) {
  std::vector<int> spare(core.need.size());
  for (std::size_t row = 0; row < spare.size(); ++row) spare[row] = -core.need[row];
  for (const std::uint32_t column : choice) {
    for_each_bit(core.covers[column], [&](std::size_t row) { ++spare[row]; });
  }
  Columns order = choice;
  std::stable_sort(order.begin(), order.end(), [&](std::uint32_t a, std::uint32_t b) {
    return count_bits(core.covers[a]) < count_bits(core.covers[b]);
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

int apart_rows(const CoverCore& core) {
  const BitMatrix by_row = core.covers.transposed();
  std::vector<std::size_t> size(by_row.rows()), order(by_row.rows());
  for (std::size_t row = 0; row < size.size(); ++row) size[row] = count_bits(by_row[row]);
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return size[a] < size[b]; });
  std::vector<BitWord> taken(words_for(by_row.bits()), 0);
  int sum = 0;
  for (const std::size_t row : order) {
    if (count_common(taken, by_row[row]) > 0) continue;
    sum += core.need[row];
    for (std::size_t w = 0; w < taken.size(); ++w) taken[w] |= by_row[row][w];
  }
  return sum;
}

int largest_columns(const CoverCore& core) {
  std::vector<std::size_t> size(core.size());
  for (std::size_t c = 0; c < size.size(); ++c) size[c] = count_bits(core.covers[c]);
  std::sort(size.begin(), size.end(), std::greater<>());
  const long long need = std::accumulate(core.need.begin(), core.need.end(), 0LL);
  long long covered = 0;
  int count = 0;
  while (covered < need) covered += static_cast<long long>(size[static_cast<std::size_t>(count++)]);
  return count;
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
  const int weight_of_rest = full_weight(core, rest);
  for (std::uint32_t c = 0; c < core.size(); ++c) {
    const bool is_chosen = std::find(choice.begin(), choice.end(), c) != choice.end();
    if (is_chosen || !is_subset(open, core.covers[c])) continue;
    int gained = weight_of_rest;
    for (std::size_t w = 0; w < full.size(); ++w) {
      const BitWord more = core.fully[c][w] & ~full[w];
      for_each_bit({&more, 1}, [&](std::size_t bit) { gained += core.weight[w * 64 + bit]; });
    }
    if (gained <= weight) continue;
    Columns exchanged = rest;
    exchanged.push_back(c);
    if (!is_connected(core, exchanged)) continue;
    best = c;
    weight = gained;
  }
  return best;
}

}  // namespace

int least_columns(const CoverCore& core) {
  const auto forced = static_cast<int>(std::count(core.forced.begin(), core.forced.end(), 1));
  CoverCore open = core;
  if (forced > 0) {
    // What forced columns cover may still stand in the needs: take it off before counting.
    for (std::uint32_t c = 0; c < core.size(); ++c) {
      if (core.forced[c] == 0) continue;
      for_each_bit(core.covers[c], [&](std::size_t row) { --open.need[row]; });
      const BitSpan done = open.covers[c];
      std::fill(done.begin(), done.end(), BitWord{0});
    }
    for (int& need : open.need) need = std::max(need, 0);
  }
  return forced + std::max(apart_rows(open), largest_columns(open));
}

Columns good_choice(const CoverCore& core, int bound, CoverBudget& budget) {
  constexpr int kAttempts = 300;
  Dice dice;
  Columns start;
  for (std::uint32_t c = 0; c < core.size() && (start.empty() || !core.graph); ++c) {
    if (core.forced[c] != 0) start.push_back(c);
  }
  Columns best = grown(core, start, dice);
  for (int i = 0; i < kAttempts; ++i) {
    if (static_cast<int>(best.size()) <= bound || budget.is_over()) break;
    Columns next = grown(core, remains_of(core, best, dice), dice);
    if (next.size() <= best.size()) best = std::move(next);
  }
  return best;
}

Columns joined_choice(const CoverCore& core, const Columns& parts) {
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
  return thinned(core, joined);
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
