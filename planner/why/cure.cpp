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
  CureFinder(const Cell& cell, Subject subject, const Vec3& station,
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
        whereabouts_(whereabouts(scene_, station, search.free_height)) {}

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

  [[nodiscard]] bool cures_from(const Vec3& at) {
    return has_room(cell_, at) && is_cured(reach_.verdict(at));
  }

  /// Adds the cure when the rules, asked in the whole changed scene, agree.
  void add(Cure cure, const Cell& changed) {
    SubjectReach reach(changed, subject_);
    const SubjectMark mark = reach.mark(cure.station);
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
      if (!place.is_planned || place.at == station_) continue;
      const std::vector<Verdict> from = verdicts_from(cell, place.at);
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
    const std::vector<Verdict> from = verdicts_from(changed, cure.station);
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
    Cure cure;
    cure.kind = CureKind::other_target;
    cure.station = station_;
    add(cure, with_all_targets(cell_, *feature));
  }

  void try_heights() {
    const auto works = [&](double z) { return cures_from({station_.x(), station_.y(), z}); };
    const auto z = smallest_step(station_.z(), whereabouts_.heights, search_.height_step,
                                 search_.width, works);
    if (!z) return;
    Cure cure;
    cure.kind = CureKind::change_height;
    cure.station = {station_.x(), station_.y(), *z};
    cure.shift = cure.station - station_;
    add(cure, cell_);
  }

  void try_shifts() {
    const auto works = [&](const Vec2& by) {
      const Vec2 at = station_.head<2>() + by;
      return whereabouts_.may_stand_at(scene_, at) && cures_from({at.x(), at.y(), station_.z()});
    };
    const auto by = smallest_shift(search_.shift_step, search_.longest_shift, search_.width, works);
    if (!by) return;
    Cure cure;
    cure.kind = CureKind::shift_station;
    cure.shift = {by->x(), by->y(), 0};
    cure.station = station_ + cure.shift;
    add(cure, cell_);
  }

  void try_bodies() {
    std::optional<Cure> smallest_move, removal;
    for (std::size_t b = 0; b < scene_.bodies.size(); ++b) {
      if (scene_.bodies[b].role != BodyRole::fixture || watch_.is_interrupted()) continue;
      if (!cures(without_body(local_cell(), BodyId(b)))) continue;
      Cure cure;
      cure.station = station_;
      cure.body = BodyId(b);
      cure.kind = CureKind::remove_body;
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
      Vec3 low = station_, high = station_;
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
      if (!place.is_planned || place.at == station_ || !is_cured(reach_.verdict(place.at)))
        continue;
      Cure cure;
      cure.kind = CureKind::planned_station;
      cure.station = place.at;
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
    const auto distance = [&](const OtherPlace& p) { return (p.at - station_).norm(); };
    for (const OtherPlace& place : places_) {
      if (place.is_planned || place.at == station_ || !is_cured(reach_.verdict(place.at))) continue;
      if (added == nullptr || distance(place) < distance(*added)) added = &place;
    }
    if (added == nullptr) return;
    Cure cure;
    cure.kind = CureKind::add_station;
    cure.station = added->at;
    cure.name = added->name;
    add(cure, cell_);
  }

  /// Over all places and a coarse look at heights: where the beam comes nearest to passing.
  void look_for_nearest_miss() {
    constexpr std::size_t kMostLooks = 64;
    std::vector<Vec3> looks{station_};
    for (const double z : {whereabouts_.heights.low, whereabouts_.heights.high}) {
      looks.emplace_back(station_.x(), station_.y(), z);
    }
    const std::size_t stride = std::max<std::size_t>(1, places_.size() / kMostLooks);
    for (std::size_t i = 0; i < places_.size(); i += stride) looks.push_back(places_[i].at);
    for (const Vec3& at : looks) {
      if (watch_.is_interrupted()) return;
      const auto margin = reach_.mark(at).margin;
      if (!margin || (found_.nearest_margin && *margin <= *found_.nearest_margin)) continue;
      found_.nearest_margin = margin;
      found_.nearest_miss = at;
    }
  }

  const Cell& cell_;
  const Scene& scene_;
  Subject subject_;
  Vec3 station_;
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

Cures find_cures(const Cell& cell, Subject subject, const Vec3& station,
                 const std::vector<OtherPlace>& places, const CureSearch& search,
                 const Watch& watch) {
  return CureFinder(cell, subject, station, places, search, watch).find();
}

}  // namespace standpoint
