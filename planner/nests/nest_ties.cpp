#include "planner/nests/nest_ties.h"

#include <algorithm>
#include <cassert>
#include <map>
#include <numeric>
#include <optional>
#include <utility>

#include "planner/cover/cover_program.h"
#include "planner/stations/some_off_line.h"
#include "planner/stations/ties.h"

namespace standpoint {
namespace {

/// Whether some nests of a list are off one line, asked again and again of the same lists.
class OffLine {
 public:
  OffLine(const std::vector<Vec3>& places, int least)
      : places_(&places), least_(static_cast<std::size_t>(least)) {}
  [[nodiscard]] bool operator()(const std::vector<std::uint32_t>& nests) {
    if (nests == last_) return answer_;
    std::vector<Vec3> places;
    places.reserve(nests.size());
    for (const std::uint32_t nest : nests) places.push_back((*places_)[nest]);
    last_ = nests;
    return answer_ = some_off_line(places, least_) == SomeOffLine::yes;
  }

 private:
  const std::vector<Vec3>* places_;
  std::size_t least_;
  std::vector<std::uint32_t> last_;
  bool answer_ = false;
};

/// The parts into which some links join `count` things: for each thing the number of its part.
std::vector<std::size_t> parts_of(std::size_t count,
                                  const std::vector<std::pair<std::size_t, std::size_t>>& links) {
  std::vector<std::size_t> part(count);
  std::iota(part.begin(), part.end(), std::size_t{0});
  for (const auto& [a, b] : links) {
    const std::size_t from = part[b], to = part[a];
    std::replace(part.begin(), part.end(), from, to);
  }
  return part;
}

/// The integer program of `NestTies::least_sites`.
class CountingProgram {
 public:
  CountingProgram(const NestTies::Question& q, int least) : q_(&q) {
    for (std::size_t a = 0; a < q.stations; ++a)
      for (std::size_t b = a + 1; b < q.stations; ++b) pairs_.push_back({a, b, need(a, b, least)});
    add_sites();
    for (Pair& pair : pairs_) add_link(pair);
  }

  NestTies::Least solve(double time_limit_s) {
    NestTies::Least least;
    // Each round cuts off the parts of the last answer; there are finitely many cuts.
    for (;;) {
      const auto outcome = program_.minimise(time_limit_s);
      if (outcome.state == BinaryProgram::State::infeasible) {
        least.is_possible = false;
        return least;
      }
      if (outcome.bound) least.sites = std::max(least.sites, *outcome.bound);
      if (outcome.state == BinaryProgram::State::stopped || !outcome.values) return least;
      if (!cut_apart(*outcome.values)) {
        for (std::size_t v = 0; v < site_.size(); ++v)
          if ((*outcome.values)[v] != 0) least.example.push_back(site_[v]);
        std::sort(least.example.begin(), least.example.end());
        return least;
      }
    }
  }

 private:
  struct Pair {
    std::size_t a, b;
    int need;  ///< sites that must count from both
    std::uint32_t link = 0;
  };

  [[nodiscard]] int need(std::size_t a, std::size_t b, int least) const {
    int shared = 0;
    for (std::size_t n = 0; n < q_->existing; ++n)
      shared += q_->counts[n][a] != 0 && q_->counts[n][b] != 0;
    return std::max(0, least - shared);
  }

  /// A variable for each site, but no more of one kind than any link can need.
  void add_sites() {
    int most = 0;
    for (const Pair& pair : pairs_) most = std::max(most, pair.need);
    std::map<std::vector<char>, int> of_kind;
    for (std::size_t n = q_->existing; n < q_->places.size(); ++n) {
      if (of_kind[q_->counts[n]]++ >= most) continue;
      site_.push_back(static_cast<std::uint32_t>(n - q_->existing));
      program_.add_variable(1);
    }
  }

  void add_link(Pair& pair) {
    pair.link = program_.add_variable(0);
    if (pair.need == 0) return;
    std::vector<BinaryProgram::Term> terms;
    for (std::uint32_t v = 0; v < site_.size(); ++v) {
      const auto& counts = q_->counts[q_->existing + site_[v]];
      if (counts[pair.a] != 0 && counts[pair.b] != 0) terms.push_back({v, 1});
    }
    terms.push_back({pair.link, -pair.need});
    program_.add_row(std::move(terms), 0, BinaryProgram::kNoBound);
  }

  /// Asks a link out of each part of an answer; false where it is one part.
  bool cut_apart(const std::vector<char>& values) {
    std::vector<std::pair<std::size_t, std::size_t>> links;
    for (const Pair& pair : pairs_)
      if (values[pair.link] != 0) links.emplace_back(pair.a, pair.b);
    const std::vector<std::size_t> part = parts_of(q_->stations, links);
    const bool is_one =
        std::all_of(part.begin(), part.end(), [&](std::size_t p) { return p == part.front(); });
    if (is_one) return false;
    for (std::size_t p = 0; p < q_->stations; ++p) {
      if (std::find(part.begin(), part.end(), p) == part.end()) continue;
      std::vector<BinaryProgram::Term> terms;
      for (const Pair& pair : pairs_)
        if ((part[pair.a] == p) != (part[pair.b] == p)) terms.push_back({pair.link, 1});
      program_.add_row(std::move(terms), 1, BinaryProgram::kNoBound);
    }
    return true;
  }

  const NestTies::Question* q_;
  std::vector<Pair> pairs_;
  std::vector<std::uint32_t> site_;  ///< of each site's variable
  BinaryProgram program_;
};

}  // namespace

NestTies::NestTies(Question question)
    : q_(std::move(question)), least_(std::max(3, q_.shared_nests)), existing_(q_.existing) {
  assert(q_.counts.size() == q_.places.size());
  std::iota(existing_.begin(), existing_.end(), 0U);
}

int NestTies::missing(const SiteSet& sites) const {
  if (!q_.are_asked || q_.stations < 2) return 0;
  std::vector<std::uint32_t> nests = existing_;
  for (const std::uint32_t site : sites)
    nests.push_back(static_cast<std::uint32_t>(q_.existing + site));
  OffLine are_off_line(q_.places, least_);
  std::vector<std::uint32_t> shared;
  const auto lacks = [&](std::size_t a, std::size_t b) {
    shared.clear();
    for (const std::uint32_t nest : nests)
      if (q_.counts[nest][a] != 0 && q_.counts[nest][b] != 0) shared.push_back(nest);
    const int short_of = least_ - static_cast<int>(shared.size());
    return short_of > 0 ? short_of : (are_off_line(shared) ? 0 : 1);
  };
  // The least spanning tree (Prim): what the links that lack least lack together.
  std::vector<int> nearest(q_.stations, least_ + 1);
  std::vector<char> is_in(q_.stations, 0);
  int sum = 0;
  for (std::size_t round = 0, last = 0; round + 1 < q_.stations; ++round) {
    is_in[last] = 1;
    std::size_t next = q_.stations;
    for (std::size_t s = 0; s < q_.stations; ++s) {
      if (is_in[s] != 0) continue;
      if (nearest[s] > 0) nearest[s] = std::min(nearest[s], lacks(last, s));
      if (next == q_.stations || nearest[s] < nearest[next]) next = s;
    }
    sum += nearest[next];
    last = next;
  }
  return sum;
}

NestTies::Least NestTies::least_sites(double time_limit_s) const {
  if (!q_.are_asked || q_.stations < 2) return {};
  return CountingProgram(q_, least_).solve(time_limit_s);
}

}  // namespace standpoint
