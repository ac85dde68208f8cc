#include "planner/planning/equal_sets.h"

#include <algorithm>
#include <numeric>

namespace standpoint {
namespace {

class Finder {
 public:
  Finder(const EqualSetQuestion& question, const std::vector<CandidateId>& chosen,
         const EqualSetLimit& limit)
      : question_(question),
        limit_(limit),
        aims_(count_aims(question.scene, question.candidates, question.table, chosen)),
        is_used_(question.candidates.size(), false) {
    gather_rows();
    for (std::size_t c = 0; c < question_.candidates.size(); ++c)
      if (question_.candidates[c].keep) take(c);
    is_possible_ = spent_ <= aims_.cost;
  }

  [[nodiscard]] EqualSets run() {
    if (is_possible_) extend(0, 0);
    std::sort(found_.sets.begin(), found_.sets.end());
    found_.is_all = is_possible_ && !is_over_;
    return std::move(found_);
  }

 private:
  struct Row {
    std::vector<std::uint32_t> columns;  ///< that reach the feature
    int need = 0;                        ///< how often it can be met, at most
    int missing = 0;                     ///< of `need`, by what is taken now
    bool is_left = false;                ///< it is decided to leave out what is missing
  };

  /// The required features that some candidate reaches, the scarcest first. Those that stations may
  /// share cannot be branched on: each may be covered without any of its columns.
  void gather_rows() {
    const Scene& scene = question_.scene;
    rows_of_.resize(question_.candidates.size());
    int shared = 0;
    for (std::size_t f = 0; f < scene.features.size(); ++f) {
      if (!scene.features[f].required) continue;
      if (!question_.table.parts(FeatureId(f)).ways.empty()) {
        ++shared;
        continue;
      }
      Row row;
      for (std::uint32_t c = 0; c < question_.candidates.size(); ++c)
        if (question_.table.feature(CandidateId(c), FeatureId(f)) != Verdict::blocked)
          row.columns.push_back(c);
      row.need = std::min(scene.rules.stations_per_feature, static_cast<int>(row.columns.size()));
      row.missing = row.need;
      if (row.need > 0) rows_.push_back(std::move(row));
    }
    std::stable_sort(rows_.begin(), rows_.end(), [](const Row& a, const Row& b) {
      return a.columns.size() < b.columns.size();
    });
    int all = 0;
    for (std::uint32_t r = 0; r < rows_.size(); ++r) {
      all += rows_[r].need;
      for (const std::uint32_t c : rows_[r].columns) rows_of_[c].push_back(r);
    }
    spare_ = all + shared - aims_.covered;
  }

  void take(std::size_t column) {
    is_used_[column] = true;
    taken_.emplace_back(column);
    spent_ += cost_of(column);
    for (const std::uint32_t r : rows_of_[column]) --rows_[r].missing;
  }

  void put_back() {
    const CandidateId column = taken_.back();
    taken_.pop_back();
    spent_ -= cost_of(column.index);
    for (const std::uint32_t r : rows_of_[column.index]) ++rows_[r].missing;
  }

  [[nodiscard]] long long cost_of(std::size_t column) const {
    return cost_in_millionths(question_.candidates[column]);
  }

  void extend(std::size_t first_row, std::size_t first_free) {
    if (is_over_ || ++steps_ > limit_.steps) {
      is_over_ = true;
      return;
    }
    std::size_t row = first_row;
    while (row < rows_.size() && (rows_[row].missing <= 0 || rows_[row].is_left)) ++row;
    if (spent_ >= aims_.cost) {
      if (spent_ == aims_.cost && is_spared_from(row)) add();
    } else if (row == rows_.size()) {
      extend_freely(row, first_free);
    } else {
      branch_on(row);
    }
  }

  /// Whether what is still missing may all be left out.
  [[nodiscard]] bool is_spared_from(std::size_t row) const {
    int spare = spare_;
    for (; row < rows_.size(); ++row)
      if (!rows_[row].is_left && rows_[row].missing > 0) spare -= rows_[row].missing;
    return spare >= 0;
  }

  /// Over the columns of the row, each without those tried before it, so that no set comes twice;
  /// then over leaving out what is missing.
  void branch_on(std::size_t row) {
    std::vector<std::uint32_t> tried;
    for (const std::uint32_t c : rows_[row].columns) {
      if (is_used_[c] || is_over_) continue;
      take(c);
      extend(row, 0);
      put_back();  // it stays used: the sets with it are done
      tried.push_back(c);
    }
    const int missing = rows_[row].missing;
    if (missing <= spare_) {
      spare_ -= missing;
      rows_[row].is_left = true;
      extend(row + 1, 0);
      rows_[row].is_left = false;
      spare_ += missing;
    }
    for (const std::uint32_t c : tried) is_used_[c] = false;
  }

  /// Everything is met, and there are slots left (for ties, or for features by full target).
  void extend_freely(std::size_t row, std::size_t first_free) {
    for (std::size_t c = first_free; c < is_used_.size() && !is_over_; ++c) {
      if (is_used_[c]) continue;
      take(c);
      extend(row, c + 1);
      put_back();
      is_used_[c] = false;
    }
  }

  void add() {
    std::vector<CandidateId> set = taken_;
    std::sort(set.begin(), set.end());
    if (count_aims(question_.scene, question_.candidates, question_.table, set) != aims_ ||
        !question_.is_tied(set))
      return;
    if (found_.sets.size() == limit_.sets) {
      is_over_ = true;
      return;
    }
    found_.sets.push_back(std::move(set));
  }

  const EqualSetQuestion& question_;
  const EqualSetLimit& limit_;
  AimCount aims_;
  std::vector<bool> is_used_;  ///< taken, or tried before at this branch
  std::vector<Row> rows_;
  std::vector<std::vector<std::uint32_t>> rows_of_;  ///< of each candidate
  std::vector<CandidateId> taken_;
  long long spent_ = 0;  ///< what they cost, in millionths
  int spare_ = 0;        ///< how much may be left out
  std::size_t steps_ = 0;
  bool is_over_ = false, is_possible_ = true;
  EqualSets found_;
};

}  // namespace

EqualSets equal_sets(const EqualSetQuestion& question, const std::vector<CandidateId>& chosen,
                     const EqualSetLimit& limit) {
  return Finder(question, chosen, limit).run();
}

}  // namespace standpoint
