#include "planner/stations/ties.h"

#include <algorithm>
#include <map>

#include <tbb/parallel_for.h>

#include "planner/stations/some_off_line.h"
#include "planner/stations/wide_triangles.h"

namespace standpoint {
namespace {

/// Decides which sets of nests are enough to link two candidates.
class LinkTest {
 public:
  explicit LinkTest(const Scene& scene)
      : least_(static_cast<std::size_t>(least_shared_nests(scene))) {
    for (const Nest& nest : scene.nests) places_.push_back(nest.at);
    can_any_link_ = can_link(places_);
    // Nests seen from one group may lie much closer together than all of them: tables for spreads
    // that halve, down to where a group is as good as one place.
    constexpr int kLevels = 6;
    double spread = box_of(places_).diagonal().norm();
    for (int level = 0; level < kLevels; ++level, spread /= 2)
      levels_.emplace_back(places_, spread);
  }

  /// The table to ask about subsets of `nests`.
  [[nodiscard]] const WideTriangles& level_for(const std::vector<NestId>& nests) const {
    std::vector<Vec3> seen;
    seen.reserve(nests.size());
    for (const NestId nest : nests) seen.push_back(places_[nest.index]);
    const double spread = nests.empty() ? 0 : box_of(seen).diagonal().norm();
    std::size_t level = 0;
    while (level + 1 < levels_.size() && levels_[level + 1].spread() >= spread) ++level;
    return levels_[level];
  }

  /// Answers of before by the nests that were asked about: groups often share the same.
  using Known = std::map<std::vector<BitWord>, bool>;

  [[nodiscard]] bool is_enough(ConstBitSpan shared, const WideTriangles& level,
                               Known& known) const {
    if (count_bits(shared) < least_) return false;
    if (level.prove_off_one_line(shared)) return true;
    const auto [answer, is_new] = known.try_emplace({shared.begin(), shared.end()}, false);
    if (is_new) answer->second = some_off_line(places_of(shared), least_) == SomeOffLine::yes;
    return answer->second;
  }

  /// False where it is proven that no nests of these link: then no fewer of them do.
  [[nodiscard]] bool can_link(ConstBitSpan nests, const WideTriangles& level) const {
    return can_any_link_ && count_bits(nests) >= least_ &&
           (level.prove_off_one_line(nests) || can_link(places_of(nests)));
  }

 private:
  [[nodiscard]] bool can_link(const std::vector<Vec3>& places) const {
    return some_off_line(places, least_) != SomeOffLine::no;
  }
  [[nodiscard]] std::vector<Vec3> places_of(ConstBitSpan nests) const {
    std::vector<Vec3> places;
    for_each_bit(nests, [&](std::size_t nest) { places.push_back(places_[nest]); });
    return places;
  }
  static Eigen::AlignedBox3d box_of(const std::vector<Vec3>& places) {
    Eigen::AlignedBox3d box;
    for (const Vec3& place : places) box.extend(place);
    return box;
  }

  std::size_t least_;
  bool can_any_link_ = true;
  std::vector<Vec3> places_;
  std::vector<WideTriangles> levels_;
};

std::vector<NestId> counting_nests(const Scene& scene, const ReachTable& table, CandidateId c) {
  std::vector<NestId> nests;
  for (std::size_t n = 0; n < table.nest_count(); ++n) {
    if (counts_for_ties(scene, table.nest(c, NestId(n)))) nests.emplace_back(n);
  }
  return nests;
}

/// Every pair of groups, each with itself included.
BitMatrix linked_groups(const Scene& scene, const std::vector<std::vector<NestId>>& nests) {
  BitMatrix bits(nests.size(), scene.nests.size());
  for (std::size_t g = 0; g < nests.size(); ++g) {
    for (const NestId nest : nests[g]) set_bit(bits[g], nest.index);
  }
  const LinkTest test(scene);
  BitMatrix linked(nests.size(), nests.size());
  tbb::parallel_for(std::size_t{0}, nests.size(), [&](std::size_t g) {
    const WideTriangles& level = test.level_for(nests[g]);
    const ConstBitSpan of_g = std::as_const(bits)[g];
    if (!test.can_link(of_g, level)) return;
    std::vector<BitWord> shared(of_g.size());
    LinkTest::Known known;
    for (std::size_t h = g; h < nests.size(); ++h) {
      const ConstBitSpan of_h = std::as_const(bits)[h];
      for (std::size_t w = 0; w < shared.size(); ++w) shared[w] = of_g[w] & of_h[w];
      if (test.is_enough(shared, level, known)) set_bit(linked[g], h);
    }
  });
  for (std::size_t g = 0; g < nests.size(); ++g) {
    for_each_bit(std::as_const(linked)[g], [&](std::size_t h) { set_bit(linked[h], g); });
  }
  return linked;
}

}  // namespace

Ties::Ties(const Scene& scene, const ReachTable& table) : are_asked_(are_ties_asked(scene)) {
  std::map<std::vector<NestId>, std::uint32_t> group_of_nests;
  for (std::size_t c = 0; c < table.candidate_count(); ++c) {
    std::vector<NestId> nests = counting_nests(scene, table, CandidateId(c));
    const auto [at, is_new] =
        group_of_nests.try_emplace(nests, static_cast<std::uint32_t>(nests_.size()));
    groups_.group_of.push_back(at->second);
    if (is_new) nests_.push_back(std::move(nests));
  }
  if (are_asked_) {
    groups_.linked = linked_groups(scene, nests_);
    return;
  }
  groups_.linked = BitMatrix(nests_.size(), nests_.size());
  for (std::size_t g = 0; g < nests_.size(); ++g) {
    for (std::size_t h = 0; h < nests_.size(); ++h) set_bit(groups_.linked[g], h);
  }
}

std::vector<CandidateId> Ties::linked_with(CandidateId c) const {
  std::vector<CandidateId> linked;
  for (std::size_t other = 0; other < groups_.group_of.size(); ++other) {
    if (are_linked(c, CandidateId(other))) linked.emplace_back(other);
  }
  return linked;
}

std::vector<NestId> Ties::shared(CandidateId a, CandidateId b) const {
  std::vector<NestId> both;
  const std::vector<NestId>&of_a = nests_of(a), &of_b = nests_of(b);
  std::set_intersection(of_a.begin(), of_a.end(), of_b.begin(), of_b.end(),
                        std::back_inserter(both));
  return both;
}

}  // namespace standpoint
