#include "planner/cover/link_graph.h"

#include <algorithm>
#include <utility>

namespace standpoint {
namespace {

std::vector<std::uint32_t> groups_of(const LinkGroups& links,
                                     const std::vector<std::uint32_t>& members) {
  std::vector<std::uint32_t> groups;
  groups.reserve(members.size());
  for (const std::uint32_t member : members) groups.push_back(links.group_of[member]);
  return groups;
}

}  // namespace

LinkGraph::LinkGraph(const LinkGroups& links, const std::vector<std::uint32_t>& members)
    : LinkGraph(links.linked, groups_of(links, members)) {}

LinkGraph::LinkGraph(const BitMatrix& linked, std::vector<std::uint32_t> group)
    : linked_(&linked),
      group_(std::move(group)),
      members_(linked.rows()),
      inhabited_(words_for(linked.rows()), 0),
      degree_(linked.rows(), 0) {
  for (std::uint32_t column = 0; column < group_.size(); ++column) {
    members_[group_[column]].push_back(column);
    set_bit(inhabited_, group_[column]);
  }
  for_each_bit(inhabited_, [&](std::size_t g) {
    std::size_t degree = has_bit((*linked_)[g], g) ? std::size_t(-1) : 0;  // not with itself
    const ConstBitSpan row = (*linked_)[g];
    for (std::size_t w = 0; w < row.size(); ++w) {
      const BitWord word = row[w] & inhabited_[w];
      for_each_bit({&word, 1}, [&](std::size_t bit) { degree += members_[w * 64 + bit].size(); });
    }
    degree_[g] = static_cast<std::uint32_t>(degree);
  });
}

std::uint32_t LinkGraph::degree(std::uint32_t a) const {
  return degree_[group_[a]];
}

bool LinkGraph::is_complete() const {
  return std::all_of(group_.begin(), group_.end(),
                     [&](std::uint32_t g) { return degree_[g] + 1 == size(); });
}

bool LinkGraph::is_linked_no_better(std::uint32_t a, std::uint32_t b) const {
  const std::uint32_t g = group_[a], h = group_[b];
  if (g == h) return true;
  const ConstBitSpan of_a = (*linked_)[g], of_b = (*linked_)[h];
  for (std::size_t w = 0; w < of_a.size(); ++w) {
    BitWord missing = of_a[w] & inhabited_[w] & ~of_b[w];
    if (missing == 0) continue;
    // A group that is nothing but `a`, or nothing but `b`, is not missed.
    if (g / 64 == w && members_[g].size() == 1) missing &= ~(BitWord{1} << (g % 64));
    if (h / 64 == w && members_[h].size() == 1) missing &= ~(BitWord{1} << (h % 64));
    if (missing != 0) return false;
  }
  return true;
}

LinkGraph LinkGraph::restricted_to(const std::vector<std::uint32_t>& kept) const {
  std::vector<std::uint32_t> group;
  group.reserve(kept.size());
  for (const std::uint32_t column : kept) group.push_back(group_[column]);
  return LinkGraph(*linked_, std::move(group));
}

std::vector<std::vector<std::uint32_t>> LinkGraph::parts_of(
    const std::vector<std::uint32_t>& set) const {
  std::vector<std::vector<std::uint32_t>> parts;
  std::vector<std::uint32_t> rest = set;
  while (!rest.empty()) {
    std::vector<std::uint32_t> part{rest.front()};
    rest.erase(rest.begin());
    for (std::size_t i = 0; i < part.size(); ++i) {
      const auto linked = std::stable_partition(
          rest.begin(), rest.end(), [&](std::uint32_t c) { return !are_linked(part[i], c); });
      part.insert(part.end(), linked, rest.end());
      rest.erase(linked, rest.end());
    }
    std::sort(part.begin(), part.end());
    parts.push_back(std::move(part));
  }
  return parts;
}

std::vector<std::uint32_t> LinkGraph::part_numbers(const std::vector<char>& allowed) const {
  std::vector<std::uint32_t> number(size(), kNone);
  Walk walk(*this, allowed);
  std::uint32_t parts = 0;
  for (std::uint32_t column = 0; column < size(); ++column) {
    if (allowed[column] == 0 || walk.has_reached(column)) continue;
    walk.begin_at(column);
    while (const auto reached = walk.next()) number[*reached] = parts;
    ++parts;
  }
  return number;
}

std::vector<char> LinkGraph::neighbours(const std::vector<std::uint32_t>& set) const {
  std::vector<char> result(size(), 0);
  std::vector<std::uint32_t> entered_by(members_.size(), kNone);
  std::vector<char> entered_by_two(members_.size(), 0);
  for (const std::uint32_t column : set) {
    const ConstBitSpan row = (*linked_)[group_[column]];
    for_each_bit(row, [&](std::size_t g) {
      // The first comer marks all but itself; only a second one can mark the first.
      if (entered_by_two[g] != 0) return;
      if (entered_by[g] != kNone) entered_by_two[g] = 1;
      for (const std::uint32_t member : members_[g]) {
        if (member != column) result[member] = 1;
      }
      entered_by[g] = column;
    });
  }
  return result;
}

LinkGraph::Walk::Walk(const LinkGraph& graph, const std::vector<char>& allowed)
    : graph_(&graph),
      allowed_(&allowed),
      reached_(graph.size(), 0),
      left_group_(graph.members_.size(), 0),
      entered_group_(graph.members_.size(), 0),
      from_(graph.size(), kNone) {}

void LinkGraph::Walk::reach(std::uint32_t column, std::uint32_t from) {
  if (reached_[column] != 0) return;
  reached_[column] = 1;
  from_[column] = from;
  queue_.push_back(column);
}

std::optional<std::uint32_t> LinkGraph::Walk::next() {
  if (head_ == queue_.size()) return std::nullopt;
  const std::uint32_t column = queue_[head_++];
  const std::uint32_t group = graph_->group_[column];
  if (left_group_[group] != 0) return column;
  left_group_[group] = 1;
  // Once a group was entered all its allowed members are reached (the one that entered it was
  // before).
  for_each_bit((*graph_->linked_)[group], [&](std::size_t g) {
    if (entered_group_[g] != 0) return;
    entered_group_[g] = 1;
    for (const std::uint32_t member : graph_->members_[g]) {
      if ((*allowed_)[member] != 0) reach(member, column);
    }
  });
  return column;
}

}  // namespace standpoint
