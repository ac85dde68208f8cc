#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "planner/cover/bits.h"
#include "planner/cover/cover.h"
#include "planner/cover/cover_shared.h"
#include "planner/cover/link_graph.h"

namespace standpoint {

/// One connected part of a covering problem, as the reductions and programs see it: choose columns
/// of the least cost, the forced ones among them, so that each row is covered `need` times, each
/// needed shared row is met and the choice is connected; then fully cover rows of the greatest
/// weight (a shared row weighs 1).
struct CoverCore {
  Columns names;             ///< of each column its number in the problem, ascending
  std::vector<int> cost;     ///< of each column, in steps (`CostSteps`)
  std::vector<char> forced;  ///< columns in every solution
  BitMatrix covers;          ///< columns x rows; what forced columns cover may be left out together
                             ///< with the part of `need` that they meet
  std::vector<int> need;     ///< of each row, >= 1
  BitMatrix fully;           ///< columns x classes of rows that the same columns cover fully
  std::vector<int> weight;   ///< of each class: how many rows it stands for
  SharedRows shared;         ///< rows that columns may cover together; in no other list
  std::optional<LinkGraph> graph;  ///< nothing: every choice is connected

  [[nodiscard]] std::size_t size() const { return names.size(); }
};

/// The core of some of the problem's columns. Rows: the counted ones that some of them covers, each
/// as often as they can, at most `times`. `cost`: of each column of the problem. Precondition:
/// `columns` are connected (or links are nothing).
[[nodiscard]] CoverCore make_core(const CoverProblem& problem, const std::vector<int>& cost,
                                  const Columns& columns, const std::optional<LinkGroups>& links);

/// What the columns cost together, in steps.
[[nodiscard]] int cost_of(const CoverCore& core, const Columns& set);

/// Whether a set holds all forced columns, covers each row as often as needed and meets each needed
/// shared row.
[[nodiscard]] bool is_enough(const CoverCore& core, const Columns& set);

/// Whether a set is connected; the empty set and single columns are.
[[nodiscard]] bool is_connected(const CoverCore& core, const Columns& set);

/// The weight of the classes that the set covers fully.
[[nodiscard]] int class_weight(const CoverCore& core, const Columns& set);

/// That, and of the shared rows that it covers fully.
[[nodiscard]] int full_weight(const CoverCore& core, const Columns& set);

/// The numbers in the problem of a core's columns, ascending.
[[nodiscard]] Columns names_of(const CoverCore& core, const Columns& set);

/// The other way round. Precondition: the core has columns of these names; its names ascend.
[[nodiscard]] Columns numbers_of(const CoverCore& core, const Columns& names);

/// Joins rows of equal bits: `fully_by_row` (rows x columns) with a weight each becomes classes
/// (columns x classes); rows without a column are left out. In the order of the classes' first
/// rows.
void join_equal_rows(const BitMatrix& fully_by_row, const std::vector<int>& row_weight,
                     BitMatrix& fully, std::vector<int>& weight);

}  // namespace standpoint
