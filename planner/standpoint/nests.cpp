#include "standpoint/nests.h"

#include <algorithm>
#include <limits>
#include <tuple>
#include <utility>
#include <vector>

#include "planner/nests/generate_sites.h"
#include "planner/nests/nest_judge.h"
#include "planner/nests/station_sets.h"
#include "planner/nests/subset_search.h"
#include "planner/planning/choose_alignment.h"
#include "planner/planning/improve.h"
#include "planner/planning/settle_targets.h"
#include "planner/planning/station_choice.h"

namespace standpoint {
namespace {

/// The scene with every site as a nest, and none left to choose from.
Scene with_all_sites(Scene scene, const std::vector<NestSite>& sites) {
  scene.nests.insert(scene.nests.end(), sites.begin(), sites.end());
  scene.nest_sites.clear();
  scene.nest_surfaces.clear();
  return scene;
}

/// The table of the same candidates for some of its nests.
ReachTable table_among(const ReachTable& table, const std::vector<NestId>& kept) {
  ReachTable some(table.candidate_count(), table.feature_count(), kept.size());
  for (std::size_t f = 0; f < table.feature_count(); ++f)
    some.set_parts(FeatureId(f), table.parts(FeatureId(f)));
  for (std::size_t c = 0; c < table.candidate_count(); ++c) {
    for (std::size_t f = 0; f < table.feature_count(); ++f)
      some.set_feature(CandidateId(c), FeatureId(f), table.feature(CandidateId(c), FeatureId(f)),
                       table.first_target(CandidateId(c), FeatureId(f)));
    for (std::size_t n = 0; n < kept.size(); ++n)
      some.set_nest(CandidateId(c), NestId(n), table.nest(CandidateId(c), kept[n]));
  }
  return some;
}

/// A set of stations with the best sites for it.
struct Together {
  std::vector<CandidateId> stations;
  SubsetAnswer answer;

  /// Smaller is better: tied, bound met, fewest sites, smallest worst uncertainty.
  [[nodiscard]] auto key() const {
    return std::tuple(!answer.is_tied, !answer.is_met, answer.sites.size(),
                      answer.worst.value_or(std::numeric_limits<double>::infinity()));
  }
};

class Planner {
 public:
  Planner(const Cell& cell, const SearchEffort& effort, const StationEffort& stations,
          const Watch& watch)
      : effort_(effort),
        station_effort_(stations),
        watch_(watch),
        existing_(cell.scene().nests.size()),
        given_(cell.with(with_all_sites(cell.scene(), generate_sites(cell)))),
        cell_(given_) {}

  std::optional<NestChoice> run() {
    auto choice = choose_stations(cell_, watch_, Rods::at_once);
    if (!choice) return std::nullopt;
    choice_ = &*choice;
    settle_alignment(choice->chosen);
    must_be_tied_ = choice->ties.are_asked() && choice->cover.keep_tied;
    best_ = solve(choice->chosen);
    const StationSets others = equal_station_sets(all(), *choice, station_effort_);
    for (const std::vector<CandidateId>& set : others.sets) try_instead(set);
    improve_once_more();
    if (watch_.is_interrupted()) return std::nullopt;

    choice->chosen = best_.stations;
    NestChoice result = finished(*choice);
    result.has_tried_all_stations = others.is_all;
    return result;
  }

 private:
  [[nodiscard]] const Scene& all() const { return cell_.scene(); }

  /// One choice, with all sites, holds for all sets of sites that are compared.
  void settle_alignment(const std::vector<CandidateId>& chosen) {
    if (!all().alignment || !all().alignment->choose) return;
    Scene settled = all();
    settled.alignment->features = aligned_features(all(), look_from(chosen)).features;
    settled.alignment->choose.reset();
    cell_ = given_.with(std::move(settled));
  }

  [[nodiscard]] std::vector<PlannedStation> look_from(const std::vector<CandidateId>& set) const {
    return stations_of({cell_, choice_->candidates.kept, choice_->table, {}}, set);
  }

  [[nodiscard]] std::vector<NestId> kept() const {
    std::vector<NestId> nests;
    nests.reserve(existing_ + best_.answer.sites.size());
    for (std::size_t n = 0; n < existing_; ++n) nests.emplace_back(n);
    for (const std::uint32_t site : best_.answer.sites) nests.emplace_back(existing_ + site);
    return nests;
  }

  Together solve(const std::vector<CandidateId>& set) {
    const NestJudge judge(all(), existing_, look_from(set), must_be_tied_);
    return {set, search_subsets(judge, all().rules.max_expanded, effort_, watch_)};
  }

  void try_instead(const std::vector<CandidateId>& set) {
    if (watch_.is_interrupted()) return;
    ++station_sets_;
    // Counting needs no looks: often it tells that this set cannot do with fewer sites.
    const bool may_only_be_fewer = !all().rules.max_expanded;
    if (may_only_be_fewer && best_.answer.is_tied && counted(set) >= best_.answer.sites.size())
      return;
    Together other = solve(set);
    if (other.key() < best_.key()) best_ = std::move(other);
  }

  /// The fewest sites that could tie a set of stations, by counting.
  [[nodiscard]] std::size_t counted(const std::vector<CandidateId>& set) const {
    NestTies::Question question;
    question.existing = existing_;
    question.stations = set.size();
    question.shared_nests = all().rules.shared_nests;
    question.are_asked = must_be_tied_;
    question.counts.assign(all().nests.size(), std::vector<char>(set.size(), 0));
    for (const Nest& nest : all().nests) question.places.push_back(nest.at);
    for (std::size_t s = 0; s < set.size(); ++s)
      for (const NestId nest : choice_->ties.nests_of(set[s])) question.counts[nest.index][s] = 1;
    constexpr double kTime = 2;
    const NestTies::Least least = NestTies(std::move(question)).least_sites(kTime);
    return least.is_possible ? static_cast<std::size_t>(least.sites) : all().nests.size() + 1;
  }

  /// With the nests as they are now another set of stations may be better in the last two aims.
  void improve_once_more() {
    if (watch_.is_interrupted() || !best_.answer.is_tied) return;
    const std::vector<NestId> nests = kept();
    const Cell cell = cell_.with(with_nests(all(), nests));
    const ReachTable table = table_among(choice_->table, nests);
    const Ties ties(cell.scene(), table);
    const LaterSearch search{
        cell,
        choice_->candidates.kept,
        table,
        [&](const std::vector<CandidateId>& set) {
          return !must_be_tied_ || is_connected(ties, set);
        },
        {},
        all().alignment ? all().alignment->features : std::vector<FeatureId>()};
    const std::vector<CandidateId> better = improve(search, best_.stations, watch_).chosen;
    if (better == best_.stations || watch_.is_interrupted()) return;
    ++station_sets_;
    Together other = solve(better);
    if (other.key() < best_.key()) best_ = std::move(other);
  }

  [[nodiscard]] NestChoice finished(const StationChoice& choice) {
    watch_.tell(Stage::network, 0);
    const std::vector<NestId> nests = kept();
    NestChoice result{cell_.with(with_nests(all(), nests))};
    const Scene& scene = result.cell.scene();
    result.existing = existing_;
    for (std::uint32_t site = 0; existing_ + site < all().nests.size(); ++site)
      if (!std::binary_search(best_.answer.sites.begin(), best_.answer.sites.end(), site))
        result.left.push_back(all().nests[existing_ + site]);
    result.candidates = choice.candidates.kept;
    result.answer = best_.answer;
    result.station_sets = station_sets_;
    std::vector<Link> links;
    if (!scene.nests.empty() && scene.rules.shared_nests > 0) {
      // Of the chosen stations alone, so candidates are numbered as stations.
      ReachTable table(best_.stations.size(), 0, nests.size());
      std::vector<CandidateId> stations;
      for (std::size_t s = 0; s < best_.stations.size(); ++s) {
        stations.emplace_back(s);
        for (std::size_t n = 0; n < nests.size(); ++n)
          table.set_nest(CandidateId(s), NestId(n), choice.table.nest(best_.stations[s], nests[n]));
      }
      links = links_between(Ties(scene, table), stations);
    }
    ProvisionalPlan provisional =
        provisional_plan(scene, among_nests(look_from(best_.stations), nests));
    provisional = settle_targets(result.cell, std::move(provisional));
    result.plan = finish_plan(result.cell, choice, std::move(provisional), std::move(links));
    return result;
  }

  const SearchEffort& effort_;
  const StationEffort& station_effort_;
  const Watch& watch_;
  std::size_t existing_;
  Cell given_;  ///< with all sites as nests
  Cell cell_;   ///< the same, with the alignment's features chosen where the program was to choose
  const StationChoice* choice_ = nullptr;
  bool must_be_tied_ = false;
  int station_sets_ = 1;
  Together best_;
};

}  // namespace

std::optional<NestChoice> choose_nests(const Cell& cell, const SearchEffort& effort,
                                       const StationEffort& stations, const Watch& watch) {
  return Planner(cell, effort, stations, watch).run();
}

}  // namespace standpoint
