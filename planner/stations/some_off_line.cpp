#include "planner/stations/some_off_line.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <utility>

#include <Eigen/Eigenvalues>

#include "planner/model/tolerances.h"
#include "planner/stations/tie_rule.h"

namespace standpoint {
namespace {

/// Sets that are looked at before the search is given up. Sixteen places have fewer.
constexpr std::size_t kMostSets = std::size_t{1} << 17;

/// Places that are searched together: the search keeps the distance of every two.
constexpr std::size_t kMostPlaces = 500;

/// Pairs of places compared while a set is sought by climbing. Only finds, proves nothing.
constexpr std::size_t kMostClimbing = 20'000'000;

using Set = std::vector<std::uint32_t>;

/// The least-squares line of some places.
struct Line {
  Vec3 centroid = Vec3::Zero();
  Vec3 along = Vec3::UnitX();
  double across = 0;   ///< sum of squared distances from it: l2 + l3
  double held_by = 0;  ///< l1 - l2: how strongly its direction is held
  std::size_t count = 0;

  [[nodiscard]] Vec3 offset(const Vec3& place) const {
    const Vec3 d = place - centroid;
    return d - d.dot(along) * along;
  }
};

class Search {
 public:
  Search(const std::vector<Vec3>& places, std::size_t least)
      : places_(places), count_(places.size()), least_(least), apart_(count_ * count_) {
    for (std::size_t a = 0; a < count_; ++a)
      for (std::size_t b = 0; b < count_; ++b)
        apart_[a * count_ + b] = a < b ? (places[a] - places[b]).norm() : apart_[b * count_ + a];
  }

  SomeOffLine run() {
    if (are_neighbours_off_line()) return SomeOffLine::yes;
    const std::vector<Pair> pairs = open_pairs();
    for (const Pair& pair : pairs)
      if (climb_from(pair)) return SomeOffLine::yes;
    for (const Pair& pair : pairs) {
      now_ = &pair;
      Set chosen{pair.a, pair.b};
      if (extend(chosen, pair.open)) return SomeOffLine::yes;
      if (sets_ > kMostSets) return SomeOffLine::given_up;
    }
    return SomeOffLine::no;
  }

 private:
  /// Two places and those that may join them in a set that is no wider than they are apart.
  struct Pair {
    std::uint32_t a = 0, b = 0;  ///< a < b
    double spread = 0;
    Set open;  ///< the farthest from the line through a and b first
    double promise = 0;
  };

  [[nodiscard]] double apart(std::uint32_t a, std::uint32_t b) const {
    return apart_[a * count_ + b];
  }

  /// Whether p and q may be in one set of which `pair` is the widest pair, of equal ones the first.
  [[nodiscard]] bool fit(const Pair& pair, std::uint32_t p, std::uint32_t q) const {
    const double d = apart(p, q);
    if (d != pair.spread) return d < pair.spread;
    const std::uint32_t low = std::min(p, q), high = std::max(p, q);
    return low > pair.a || (low == pair.a && high >= pair.b);
  }

  [[nodiscard]] Line line_of(const Set& first, const Set& second = {}) const {
    Line line;
    line.count = first.size() + second.size();
    const Vec3 origin = places_[first.front()];
    Vec3 sum = Vec3::Zero();
    for (const Set* set : {&first, &second})
      for (const std::uint32_t p : *set) sum += places_[p] - origin;
    line.centroid = origin + sum / static_cast<double>(line.count);
    Mat3 scatter = Mat3::Zero();
    for (const Set* set : {&first, &second}) {
      for (const std::uint32_t p : *set) {
        const Vec3 d = places_[p] - line.centroid;
        scatter += d * d.transpose();
      }
    }
    const Eigen::SelfAdjointEigenSolver<Mat3> eigen(scatter);
    line.along = eigen.eigenvectors().col(2);
    line.across = eigen.eigenvalues()[0] + eigen.eigenvalues()[1];
    line.held_by = eigen.eigenvalues()[2] - eigen.eigenvalues()[1];
    return line;
  }

  [[nodiscard]] bool is_off_line(const Set& set) const {
    if (set.size() < least_) return false;
    std::vector<Vec3> places;
    places.reserve(set.size());
    for (const std::uint32_t p : set) places.push_back(places_[p]);
    return are_off_one_line(places);
  }

  /// Pairs of which some set may be off one line, the most promising first.
  [[nodiscard]] std::vector<Pair> open_pairs() const {
    std::vector<Pair> pairs;
    for (std::uint32_t a = 0; a < count_; ++a) {
      for (std::uint32_t b = a + 1; b < count_; ++b) {
        Pair pair{a, b, apart(a, b), {}, 0};
        if (!(pair.spread > 0)) continue;
        for (std::uint32_t p = 0; p < count_; ++p)
          if (p != a && p != b && fit(pair, a, p) && fit(pair, b, p)) pair.open.push_back(p);
        if (pair.open.size() + 2 < least_ || is_bounded(pair, {a, b}, pair.open)) continue;
        pair.promise = line_of({a, b}, pair.open).across / (pair.spread * pair.spread);
        order_by_distance(pair);
        pairs.push_back(std::move(pair));
      }
    }
    std::stable_sort(pairs.begin(), pairs.end(),
                     [](const Pair& x, const Pair& y) { return x.promise > y.promise; });
    return pairs;
  }

  void order_by_distance(Pair& pair) const {
    const Vec3 along = (places_[pair.b] - places_[pair.a]) / pair.spread;
    const auto distance = [&](std::uint32_t p) {
      return along.cross(places_[p] - places_[pair.a]).norm();
    };
    std::stable_sort(pair.open.begin(), pair.open.end(),
                     [&](std::uint32_t p, std::uint32_t q) { return distance(p) > distance(q); });
  }

  /// Whether no set that holds `chosen` and else only some of `open` can be off one line.
  [[nodiscard]] bool is_bounded(const Pair& pair, const Set& chosen, const Set& open) const {
    const double limit = pair.spread / 20 * (1 - tolerance::kSpreadSlack);
    const Line all = line_of(chosen, open);
    const auto most = static_cast<double>(all.count);
    if ((most - 1) / most * all.across < limit * limit) return true;
    const Line line = line_of(chosen);
    if (!(line.held_by > 0)) return false;
    double pull = 0;
    for (const std::uint32_t p : open) pull += line.offset(places_[p]).squaredNorm();
    for (const Set* set : {&chosen, &open}) {
      for (const std::uint32_t p : *set) {
        const double t = (places_[p] - line.centroid).dot(line.along);
        const double lever = 1 / static_cast<double>(line.count) + t * t / line.held_by;
        if (line.offset(places_[p]).norm() + std::sqrt(pull * lever) >= limit) return false;
      }
    }
    return true;
  }

  /// Goes through every set that holds `chosen` and else only some of `open`, each once. True when
  /// one is off one line; ends early when the effort is spent.
  bool extend(Set& chosen, Set open) {
    if (++sets_ > kMostSets) return false;
    if (is_off_line(chosen)) return true;
    while (!open.empty()) {
      if (chosen.size() + open.size() < least_ || is_bounded(*now_, chosen, open)) return false;
      const std::uint32_t next = open.front();
      open.erase(open.begin());
      Set left;
      for (const std::uint32_t p : open)
        if (fit(*now_, next, p)) left.push_back(p);
      chosen.push_back(next);
      if (extend(chosen, std::move(left))) return true;
      chosen.pop_back();
      if (sets_ > kMostSets) return false;
    }
    return false;
  }

  /// Tries each place with those nearest to it: of many in a long row some are off a line of their
  /// own.
  [[nodiscard]] bool are_neighbours_off_line() const {
    Set near(count_);
    std::iota(near.begin(), near.end(), 0U);
    const std::size_t most = std::min(count_, least_ + 2);
    for (std::uint32_t a = 0; a < count_; ++a) {
      std::sort(near.begin(), near.end(), [&](std::uint32_t p, std::uint32_t q) {
        return std::pair(apart(a, p), p) < std::pair(apart(a, q), q);
      });
      for (std::size_t size = least_; size <= most; ++size)
        if (is_off_line({near.begin(), near.begin() + static_cast<std::ptrdiff_t>(size)}))
          return true;
    }
    return false;
  }

  bool climb_from(const Pair& pair) {
    if (pair.open.empty()) return false;
    for (const std::uint32_t far : {pair.open.front(), pair.a, pair.b})
      if (climb(pair, far)) return true;
    return false;
  }

  /// Takes again and again those places that push the line away from `far`.
  bool climb(const Pair& pair, std::uint32_t far) {
    constexpr int kMostRounds = 12;
    Set set = joined(pair, far, [](std::uint32_t) { return false; });
    for (int round = 0; round < kMostRounds && climbing_ < kMostClimbing; ++round) {
      climbing_ += pair.open.size() * set.size();
      if (is_off_line(set)) return true;
      const Line line = line_of(set);
      const Vec3 away = line.offset(places_[far]);
      if (!(line.held_by > 0) || !(away.norm() > 0)) return false;
      const double arm = (places_[far] - line.centroid).dot(line.along) / line.held_by;
      const Set next = joined(pair, far, [&](std::uint32_t p) {
        const double t = (places_[p] - line.centroid).dot(line.along);
        const double lever = 1 / static_cast<double>(line.count) + arm * t;
        return line.offset(places_[p]).dot(away) * lever < 0;
      });
      if (next == set) return false;
      set = next;
    }
    return false;
  }

  /// The pair, `far`, those of the others that are wanted, and then any until they are enough.
  template <class IsWanted>
  [[nodiscard]] Set joined(const Pair& pair, std::uint32_t far, const IsWanted& is_wanted) const {
    Set set{pair.a, pair.b};
    if (far != pair.a && far != pair.b) set.push_back(far);
    const auto add = [&](std::uint32_t p) {
      const bool fits = std::all_of(set.begin(), set.end(),
                                    [&](std::uint32_t q) { return p != q && fit(pair, p, q); });
      if (fits) set.push_back(p);
    };
    for (const std::uint32_t p : pair.open)
      if (is_wanted(p)) add(p);
    for (const std::uint32_t p : pair.open)
      if (set.size() < least_) add(p);
    return set;
  }

  const std::vector<Vec3>& places_;
  std::size_t count_, least_;
  std::vector<double> apart_;
  const Pair* now_ = nullptr;
  std::size_t sets_ = 0, climbing_ = 0;
};

/// std::hypot would come from the C library, and the page must give the same bits.
double diagonal(double a, double b) {
  return std::sqrt(a * a + b * b);
}

}  // namespace

SomeOffLine some_off_line(const std::vector<Vec3>& places, std::size_t least) {
  least = std::max<std::size_t>(least, 3);
  if (places.size() < least) return SomeOffLine::no;
  if (are_off_one_line(places)) return SomeOffLine::yes;
  if (places.size() == least) return SomeOffLine::no;  // there is no other set
  if (places.size() > kMostPlaces && least <= kMostPlaces) {
    for (auto from = places.begin(); from != places.end();) {
      const auto left = static_cast<std::size_t>(places.end() - from);
      const auto to = from + static_cast<std::ptrdiff_t>(std::min(kMostPlaces, left));
      if (some_off_line({from, to}, least) == SomeOffLine::yes) return SomeOffLine::yes;
      from = to;
    }
    return SomeOffLine::given_up;
  }
  return Search(places, least).run();
}

LineRemedy line_remedy(const std::vector<Vec3>& places) {
  LineRemedy remedy;
  double spread = 0;
  for (std::size_t a = 0; a < places.size(); ++a) {
    for (std::size_t b = a + 1; b < places.size(); ++b) {
      const double apart = (places[b] - places[a]).norm();
      if (apart <= spread) continue;
      spread = apart;
      remedy.first = a;
      remedy.last = b;
    }
  }
  if (!(spread > 0)) return remedy;
  const Vec3& from = places[remedy.first];
  const Vec3 along = (places[remedy.last] - from) / spread;
  double widest = 0;
  for (const Vec3& place : places) widest = std::max(widest, along.cross(place - from).norm());
  // The least x with 10 spread x = sqrt(spread^2 + x^2) sqrt(spread^2 + (x + widest)^2): each round
  // comes nearer to it from below, as widest < spread / 10.
  double x = spread / 10;
  for (int round = 0; round < 60; ++round)
    x = diagonal(spread, x) * diagonal(spread, x + widest) / (10 * spread);
  remedy.off_mm = x * (1 + tolerance::kSpreadSlack);
  return remedy;
}

}  // namespace standpoint
