#pragma once

#include <algorithm>
#include <bit>
#include <cstdint>
#include <memory>
#include <numeric>
#include <tuple>
#include <vector>

#include "planner/cover/cover.h"

namespace standpoint {

/// How columns may cover a row together. What is enough is told by the sets that are not: touches
/// are enough where they are within none of these.
struct PlainWay {
  std::size_t row = 0;
  bool is_full = false;
  std::vector<std::vector<bool>> taken;       ///< columns x touches
  std::vector<std::vector<bool>> not_enough;  ///< sets of touches; where `count` is not given
  std::size_t count = 0;                      ///< so many touches are enough, whichever they are

  [[nodiscard]] bool is_enough(const std::vector<bool>& touches) const {
    if (count > 0)
      return static_cast<std::size_t>(std::count(touches.begin(), touches.end(), true)) >= count;
    for (const std::vector<bool>& set : not_enough) {
      bool is_within = true;
      for (std::size_t t = 0; t < touches.size(); ++t)
        is_within = is_within && (set[t] || !touches[t]);
      if (is_within) return false;
    }
    return true;
  }
};

/// A covering problem as the tests think of it: plain tables, links as pairs. Shares nothing with
/// the program but the struct it is turned into.
struct PlainCover {
  std::vector<std::vector<bool>> covers;  ///< columns x rows
  std::vector<std::vector<bool>> fully;
  std::vector<bool> counts;
  int times = 1;
  std::vector<std::uint32_t> keep;
  bool has_links = false;
  std::vector<std::uint32_t> group_of;
  std::vector<std::vector<bool>> groups_linked;
  std::vector<PlainWay> ways;
  std::vector<double> cost;  ///< of each column; empty: 1 each

  [[nodiscard]] bool linked(std::size_t a, std::size_t b) const {
    return a != b && (!has_links || groups_linked[group_of[a]][group_of[b]]);
  }
};

inline SharedWay shared_from(const PlainCover& plain, const PlainWay& way) {
  SharedWay shared;
  shared.row = static_cast<std::uint32_t>(way.row);
  shared.is_full = way.is_full;
  shared.touches = way.taken.front().size();
  shared.is_count = way.count > 0;
  shared.least = way.count > 0 ? way.count : 1;
  std::vector<std::vector<bool>> rows;
  for (std::uint32_t c = 0; c < plain.covers.size(); ++c) {
    const bool has_any = std::count(way.taken[c].begin(), way.taken[c].end(), true) > 0;
    if (plain.covers[c][way.row] || !has_any) continue;
    shared.columns.push_back(c);
    rows.push_back(way.taken[c]);
  }
  shared.taken = BitMatrix(rows.size(), shared.touches);
  for (std::size_t i = 0; i < rows.size(); ++i)
    for (std::size_t t = 0; t < shared.touches; ++t)
      if (rows[i][t]) set_bit(shared.taken[i], t);
  shared.is_enough = std::make_shared<TouchTest>([way](ConstBitSpan touches) {
    std::vector<bool> plain_touches(way.taken.front().size());
    for (std::size_t t = 0; t < plain_touches.size(); ++t) plain_touches[t] = has_bit(touches, t);
    return way.is_enough(plain_touches);
  });
  return shared;
}

inline CoverProblem problem_from(const PlainCover& plain) {
  CoverProblem problem;
  problem.rows = plain.counts.size();
  problem.counts = plain.counts;
  problem.times = plain.times;
  problem.keep = plain.keep;
  problem.cost = plain.cost;
  for (const PlainWay& way : plain.ways) problem.shared.push_back(shared_from(plain, way));
  for (std::size_t c = 0; c < plain.covers.size(); ++c) {
    problem.covers.emplace_back();
    problem.fully.emplace_back();
    for (std::uint32_t row = 0; row < problem.rows; ++row) {
      if (plain.covers[c][row]) problem.covers[c].push_back(row);
      if (plain.fully[c][row]) problem.fully[c].push_back(row);
    }
  }
  if (plain.has_links) {
    LinkGroups links;
    links.group_of = plain.group_of;
    links.linked = BitMatrix(plain.groups_linked.size(), plain.groups_linked.size());
    for (std::size_t g = 0; g < plain.groups_linked.size(); ++g) {
      for (std::size_t h = 0; h < plain.groups_linked.size(); ++h) {
        if (plain.groups_linked[g][h]) set_bit(links.linked[g], h);
      }
    }
    problem.links = std::move(links);
  }
  return problem;
}

/// What a choice is worth: coverage, minus its cost, full rows; greater is better, in this order.
using Worth = std::tuple<int, double, int>;

/// Whether the columns, none of which covers the way's row alone, take enough of it together.
inline bool take_together(const PlainWay& way, const std::vector<std::uint32_t>& choice) {
  std::vector<bool> touches(way.taken.front().size());
  for (const auto c : choice)
    for (std::size_t t = 0; t < touches.size(); ++t)
      if (way.taken[c][t]) touches[t] = true;
  return way.is_enough(touches);
}

inline Worth worth_of(const PlainCover& plain, const std::vector<std::uint32_t>& choice) {
  int coverage = 0, full = 0;
  for (std::size_t row = 0; row < plain.counts.size(); ++row) {
    int times = 0;
    bool is_full = false;
    for (const auto c : choice) {
      times += plain.covers[c][row] ? 1 : 0;
      is_full = is_full || plain.fully[c][row];
    }
    for (const PlainWay& way : plain.ways) {
      const bool is_alone = std::any_of(choice.begin(), choice.end(),
                                        [&](std::uint32_t c) { return plain.covers[c][row]; });
      if (way.row != row || is_alone || !take_together(way, choice)) continue;
      times = 1;
      is_full = is_full || way.is_full;
    }
    if (plain.counts[row]) coverage += std::min(times, plain.times);
    full += is_full ? 1 : 0;
  }
  double cost = 0;
  for (const auto c : choice) cost += plain.cost.empty() ? 1 : plain.cost[c];
  return {coverage, -cost, full};
}

/// By union and find over pairs.
inline bool is_tied(const PlainCover& plain, const std::vector<std::uint32_t>& choice) {
  std::vector<std::size_t> root(choice.size());
  std::iota(root.begin(), root.end(), std::size_t{0});
  const auto find = [&](std::size_t i) {
    while (root[i] != i) i = root[i];
    return i;
  };
  std::size_t parts = choice.size();
  for (std::size_t i = 0; i < choice.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      if (!plain.linked(choice[i], choice[j]) || find(i) == find(j)) continue;
      root[find(i)] = find(j);
      --parts;
    }
  }
  return parts <= 1;
}

struct ExhaustiveAnswer {
  Worth worth{-1, 0, 0};
  bool keep_tied = true;
};

/// Tries every set of columns. Precondition: at most 20 columns.
inline ExhaustiveAnswer exhaustive_cover(const PlainCover& plain) {
  ExhaustiveAnswer answer;
  Worth untied{-1, 0, 0};
  bool any = false;
  std::uint32_t kept = 0;
  for (const auto c : plain.keep) kept |= 1U << c;
  for (std::uint32_t set = 0; set < 1U << plain.covers.size(); ++set) {
    if ((set & kept) != kept) continue;
    std::vector<std::uint32_t> choice;
    for (std::uint32_t c = 0; c < plain.covers.size(); ++c) {
      if ((set >> c & 1U) != 0) choice.push_back(c);
    }
    const Worth worth = worth_of(plain, choice);
    untied = std::max(untied, worth);
    if (!is_tied(plain, choice)) continue;
    any = true;
    answer.worth = std::max(answer.worth, worth);
  }
  if (!any) answer = {untied, false};
  return answer;
}

}  // namespace standpoint
