#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "planner/cover/link_groups.h"

namespace standpoint {

/// A part of the columns of a covering problem and the links between them, numbered 0..size()-1.
///
/// Keeps a reference to the table of linked groups, which must outlive it. Immutable.
class LinkGraph {
 public:
  static constexpr std::uint32_t kNone = UINT32_MAX;

  /// The links among `members` (numbers in `links`, distinct).
  LinkGraph(const LinkGroups& links, const std::vector<std::uint32_t>& members);

  [[nodiscard]] std::size_t size() const { return group_.size(); }
  [[nodiscard]] bool are_linked(std::uint32_t a, std::uint32_t b) const {
    return a != b && has_bit((*linked_)[group_[a]], group_[b]);
  }
  /// How many columns are linked with `a`.
  [[nodiscard]] std::uint32_t degree(std::uint32_t a) const;
  /// Whether every two are linked.
  [[nodiscard]] bool is_complete() const;
  /// Whether all that is linked with `a` is linked with `b` too, or is `b`.
  [[nodiscard]] bool is_linked_no_better(std::uint32_t a, std::uint32_t b) const;

  /// The graph of some of its columns: kept[i] becomes i.
  [[nodiscard]] LinkGraph restricted_to(const std::vector<std::uint32_t>& kept) const;

  /// The connected parts of a small set of columns, each ascending. O(set^2).
  [[nodiscard]] std::vector<std::vector<std::uint32_t>> parts_of(
      const std::vector<std::uint32_t>& set) const;
  /// For each column the number of its connected part among the `allowed` ones (kNone for the
  /// others); parts are numbered by their least column. O(size + groups^2 / 64).
  [[nodiscard]] std::vector<std::uint32_t> part_numbers(const std::vector<char>& allowed) const;
  /// For each column whether it is linked with one of `set`. Columns of `set` may be marked as
  /// well.
  [[nodiscard]] std::vector<char> neighbours(const std::vector<std::uint32_t>& set) const;

  /// A walk that reaches every column from the ones it was given, nearest first.
  class Walk {
   public:
    Walk(const LinkGraph& graph, const std::vector<char>& allowed);
    /// Begins here (or here too). Precondition: allowed.
    void begin_at(std::uint32_t column) { reach(column, kNone); }
    /// The next column, in the order reached; nothing at the end.
    [[nodiscard]] std::optional<std::uint32_t> next();
    [[nodiscard]] bool has_reached(std::uint32_t column) const { return reached_[column] != 0; }
    /// From where a column was reached; kNone for the beginnings.
    [[nodiscard]] std::uint32_t came_from(std::uint32_t column) const { return from_[column]; }

   private:
    void reach(std::uint32_t column, std::uint32_t from);

    const LinkGraph* graph_;
    const std::vector<char>* allowed_;
    std::vector<char> reached_, left_group_, entered_group_;
    std::vector<std::uint32_t> from_, queue_;
    std::size_t head_ = 0;
  };

 private:
  LinkGraph(const BitMatrix& linked, std::vector<std::uint32_t> group);

  const BitMatrix* linked_;
  std::vector<std::uint32_t> group_;                 ///< of each column
  std::vector<std::vector<std::uint32_t>> members_;  ///< of each group, ascending
  std::vector<BitWord> inhabited_;                   ///< the groups that have members
  std::vector<std::uint32_t> degree_;                ///< of each group's members
};

}  // namespace standpoint
