#include "planner/why/cure.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "planner/model/stylus_solids.h"
#include "planner/stations/candidates.h"
#include "planner/why/changed_cell.h"
#include "planner/why/held.h"
#include "planner/why/smallest_change.h"
#include "planner/why/whereabouts.h"

namespace standpoint {
namespace {

class CureFinder {
 public:
  CureFinder(const Cell& cell, Subject subject, const Stance& station,
             const std::vector<OtherPlace>& places, const CureSearch& search, const Watch& watch)
      : cell_(cell),
        scene_(cell.scene()),
        subject_(subject),
        station_(station),
        places_(places),
        search_(search),
        watch_(watch),
        reach_(cell, subject),
        now_(reach_.verdict(station)),
        plan_(best_of_plan(cell)),
        before_(among_plan(verdicts_from(cell, station), plan_, Nests::own)),
        whereabouts_(whereabouts(scene_, station.at, search.free_height)) {}

  Cures find() {
    const std::vector<void (CureFinder::*)()> searches = {
        &CureFinder::try_planned_stations, &CureFinder::try_other_target,
        &CureFinder::try_heights,          &CureFinder::try_shifts,
        &CureFinder::try_bodies,           &CureFinder::try_other_places};
    for (const auto& run : searches) {
      if (watch_.is_interrupted()) break;
      (this->*run)();
    }
    std::stable_sort(found_.cures.begin(), found_.cures.end(),
                     [](const Cure& a, const Cure& b) { return a.kind < b.kind; });
    if (found_.cures.empty()) look_for_nearest_miss();
    return std::move(found_);
  }

 private:
  /// Better than it stands now: reached at all, or by full target where a stylus does.
  [[nodiscard]] bool is_cured(Verdict verdict) const { return verdict < now_; }

  /// The instrument stands there as it does where it was asked about.
  [[nodiscard]] bool cures_from(const Vec3& at) {
    const Stance stance(at, station_.up);
    return has_room(cell_, stance) && is_cured(reach_.verdict(stance));
  }

  /// A cure for which the instrument stands as it does, but for what the caller changes.
  [[nodiscard]] Cure cure_here(CureKind kind) const {
    Cure cure;
    cure.kind = kind;
    cure.station = station_.at;
    cure.up = station_.up;
    return cure;
  }

  /// Adds the cure when the rules, asked in the whole changed scene, agree.
  void add(Cure cure, const Cell& changed) {
    SubjectReach reach(changed, subject_);
    const SubjectMark mark = reach.mark(stance_of(cure));
    if (!is_cured(mark.verdict)) return;
    cure.verdict = mark.verdict;
    cure.margin = mark.margin;
    for (const auto& reached : mark.by_target) {
      if (!reached) continue;
      cure.target = reached->target;
      break;
    }
    if (const auto held = tightest_held(changed, mark)) {
      cure.shank_direction = held->direction;
      cure.shank_clearance = held->shank_clearance;
      cure.head_clearance = held->head_clearance;
    }
    cure.effect = effect_of(cure, changed);
    found_.cures.push_back(std::move(cure));
  }

  /// Whether other stations of the plan count for nests too.
  enum class Nests { own, all };

  /// The best verdict of each feature and nest over the plan's other stations; blocked without.
  [[nodiscard]] std::vector<Verdict> best_of_plan(const Cell& cell) const {
    std::vector<Verdict> best(scene_.features.size() + scene_.nests.size(), Verdict::blocked);
    for (const OtherPlace& place : places_) {
      if (!place.is_planned || stance_of(place) == station_) continue;
      const std::vector<Verdict> from = verdicts_from(cell, stance_of(place));
      for (std::size_t i = 0; i < best.size(); ++i) best[i] = std::min(best[i], from[i]);
    }
    return best;
  }

  [[nodiscard]] std::vector<Verdict> among_plan(std::vector<Verdict> verdicts,
                                                const std::vector<Verdict>& plan,
                                                Nests nests) const {
    const std::size_t count = nests == Nests::all ? verdicts.size() : scene_.features.size();
    for (std::size_t i = 0; i < count; ++i) verdicts[i] = std::min(verdicts[i], plan[i]);
    return verdicts;
  }

  [[nodiscard]] Effect effect_of(const Cure& cure, const Cell& changed) const {
    if (cure.kind == CureKind::planned_station) return {};
    const std::vector<Verdict> from = verdicts_from(changed, stance_of(cure));
    if (cure.kind == CureKind::add_station) {
      // The station asked about stays: what it reaches is not lost.
      const std::vector<Verdict> before = among_plan(before_, plan_, Nests::all);
      return compare(scene_, before, among_plan(from, before, Nests::all));
    }
    const bool is_same = &changed == &cell_;
    return compare(scene_, before_,
                   among_plan(from, is_same ? plan_ : best_of_plan(changed), Nests::own));
  }

  void try_other_target() {
    const auto* feature = std::get_if<FeatureId>(&subject_);
    if (feature == nullptr || scene_.features[feature->index].targets.empty()) return;
    add(cure_here(CureKind::other_target), with_all_targets(cell_, *feature));
  }

  void try_heights() {
    const auto works = [&](double z) { return cures_from({station_.at.x(), station_.at.y(), z}); };
    const auto z = smallest_step(station_.at.z(), whereabouts_.heights, search_.height_step,
                                 search_.width, works);
    if (!z) return;
    Cure cure = cure_here(CureKind::change_height);
    cure.station.z() = *z;
    cure.shift = cure.station - station_.at;
    add(cure, cell_);
  }

  void try_shifts() {
    const auto works = [&](const Vec2& by) {
      const Vec2 at = station_.at.head<2>() + by;
      return whereabouts_.may_stand_at(scene_, at) && cures_from({at.x(), at.y(), station_.at.z()});
    };
    const auto by = smallest_shift(search_.shift_step, search_.longest_shift, search_.width, works);
    if (!by) return;
    Cure cure = cure_here(CureKind::shift_station);
    cure.shift = {by->x(), by->y(), 0};
    cure.station += cure.shift;
    add(cure, cell_);
  }

  void try_bodies() {
    std::optional<Cure> smallest_move, removal;
    for (std::size_t b = 0; b < scene_.bodies.size(); ++b) {
      if (scene_.bodies[b].role != BodyRole::fixture || watch_.is_interrupted()) continue;
      if (!cures(without_body(local_cell(), BodyId(b)))) continue;
      Cure cure = cure_here(CureKind::remove_body);
      cure.body = BodyId(b);
      if (!removal) removal = cure;
      cure.kind = CureKind::move_body;
      if (const auto shift = smallest_body_shift(BodyId(b))) {
        cure.shift = *shift;
        if (!smallest_move || shift->norm() < smallest_move->shift.norm()) smallest_move = cure;
      }
    }
    if (smallest_move)
      add(*smallest_move, with_body_moved(cell_, *smallest_move->body, smallest_move->shift));
    if (removal) add(*removal, without_body(cell_, *removal->body));
  }

  /// Whether the subject is cured among other bodies, from where the instrument stands.
  [[nodiscard]] bool cures(const Cell& changed) const {
    return is_cured(SubjectReach(changed, subject_).verdict(station_));
  }

  /// Level shifts, and straight down: a fixture is slid or lowered, not hung in the air.
  std::optional<Vec3> smallest_body_shift(BodyId body) {
    const auto works = [&](const Vec3& by) {
      return cures(with_body_moved(local_cell(), body, by));
    };
    const auto level = smallest_shift(
        search_.longest_body_shift / 32, search_.longest_body_shift, search_.width,
        [&](const Vec2& by) {
          return works({by.x(), by.y(), 0});
        },
        8);
    return level ? std::optional(Vec3(level->x(), level->y(), 0)) : std::nullopt;
  }

  /// The triangles that can matter between the station and the subject, whatever fixture is shifted
  /// up to the longest shift: everything that a changed verdict is asked of over and over.
  const Cell& local_cell() {
    if (!local_) {
      double reach = search_.longest_body_shift;
      for (const OffsetStylus& stylus : scene_.offset_styli)
        reach = std::max(reach, stylus_reach(stylus));
      Vec3 low = station_.at, high = station_.at;
      for (const TouchMark& touch : reach_.mark(station_).touches) {
        low = low.cwiseMin(touch.at);
        high = high.cwiseMax(touch.at);
      }
      constexpr double kRoom = 500;  // hole depths, ball and beam radii
      const Vec3 more = Vec3::Constant(reach + kRoom);
      local_ = cut_to_box(cell_, low - more, high + more);
    }
    return *local_;
  }

  void try_planned_stations() {
    for (const OtherPlace& place : places_) {
      const Stance there = stance_of(place);
      if (!place.is_planned || there == station_ || !is_cured(reach_.verdict(there))) continue;
      Cure cure = cure_here(CureKind::planned_station);
      cure.station = place.at;
      cure.up = place.up;
      cure.name = place.name;
      add(cure, cell_);
    }
    std::stable_sort(found_.cures.begin(), found_.cures.end(), [](const Cure& a, const Cure& b) {
      if (a.verdict != b.verdict) return a.verdict < b.verdict;
      return a.margin.value_or(-HUGE_VAL) > b.margin.value_or(-HUGE_VAL);
    });
  }

  void try_other_places() {
    const OtherPlace* added = nullptr;
    const auto distance = [&](const OtherPlace& p) { return (p.at - station_.at).norm(); };
    for (const OtherPlace& place : places_) {
      const Stance there = stance_of(place);
      if (place.is_planned || there == station_ || !is_cured(reach_.verdict(there))) continue;
      if (added == nullptr || distance(place) < distance(*added)) added = &place;
    }
    if (added == nullptr) return;
    Cure cure = cure_here(CureKind::add_station);
    cure.station = added->at;
    cure.up = added->up;
    cure.name = added->name;
    add(cure, cell_);
  }

  /// Over all places and a coarse look at heights: where the beam comes nearest to passing.
  void look_for_nearest_miss() {
    constexpr std::size_t kMostLooks = 64;
    std::vector<Stance> looks{station_};
    for (const double z : {whereabouts_.heights.low, whereabouts_.heights.high}) {
      looks.emplace_back(Vec3(station_.at.x(), station_.at.y(), z), station_.up);
    }
    const std::size_t stride = std::max<std::size_t>(1, places_.size() / kMostLooks);
    for (std::size_t i = 0; i < places_.size(); i += stride) looks.push_back(stance_of(places_[i]));
    for (const Stance& look : looks) {
      if (watch_.is_interrupted()) return;
      const auto margin = reach_.mark(look).margin;
      if (!margin || (found_.nearest_margin && *margin <= *found_.nearest_margin)) continue;
      found_.nearest_margin = margin;
      found_.nearest_miss = look.at;
      found_.nearest_up = look.up;
    }
  }

  const Cell& cell_;
  const Scene& scene_;
  Subject subject_;
  Stance station_;
  const std::vector<OtherPlace>& places_;
  const CureSearch& search_;
  const Watch& watch_;
  SubjectReach reach_;
  Verdict now_;                  ///< as it stands: a cure is better than this
  std::vector<Verdict> plan_;    ///< the best over the plan's other stations
  std::vector<Verdict> before_;  ///< as it stands, with those
  Whereabouts whereabouts_;
  std::optional<Cell> local_;
  Cures found_;
};

}  // namespace

Cures find_cures(const Cell& cell, Subject subject, const Stance& station,
                 const std::vector<OtherPlace>& places, const CureSearch& search,
                 const Watch& watch) {
  return CureFinder(cell, subject, station, places, search, watch).find();
}

}  // namespace standpoint
