// Features that several stations take together, against every set of stations of small halls.

#include <algorithm>
#include <map>
#include <numeric>
#include <tuple>

#include <gtest/gtest.h>
#include <Eigen/Dense>

#include "planner/stations/tie_rule.h"
#include "standpoint/plan.h"
#include "tests/planner/scene_builder.h"

namespace standpoint::test {
namespace {

/// What a set of stations is worth: coverage, minus cost, features by full target.
using Worth = std::tuple<int, double, int>;

/// Which touches of planes each target reaches from each place: each touch asked as a point of its
/// own, with one target at hand.
class TouchReach {
 public:
  explicit TouchReach(const MadeScene& scene) : scene_(scene) {
    for (std::size_t t = 0; t < target_count(scene); ++t) {
      MadeScene points = scene;
      points.features.clear();
      for (const Feature& feature : scene.features) {
        if (t == 0) first_.push_back(points.features.size());
        const auto& plane = std::get<PlaneFeature>(feature.shape);
        for (const Vec3& at : plane.points)
          add_feature(points, "p" + std::to_string(points.features.size()),
                      PointFeature{at, plane.normal});
      }
      for (Feature& point : points.features) point.targets = {TargetId(t)};
      const Cell cell = cell_of(points);
      for (std::size_t p = 0; p < scene.fixed_stations.size(); ++p)
        sights_[{t, p}] = look_from(cell, scene.fixed_stations[p].at);
    }
  }

  /// Nothing where the target does not reach it from there.
  [[nodiscard]] std::optional<double> margin(std::size_t target, std::size_t place,
                                             std::size_t feature, std::size_t touch) const {
    const FeatureMark& mark = sights_.at({target, place}).features[first_[feature] + touch];
    return mark.verdict == Verdict::blocked ? std::nullopt : mark.margin;
  }
  [[nodiscard]] std::vector<bool> reached(std::size_t target, std::size_t feature,
                                          const std::vector<std::size_t>& places) const {
    const auto& plane = std::get<PlaneFeature>(scene_.features[feature].shape);
    std::vector<bool> touches(plane.points.size());
    for (const std::size_t place : places)
      for (std::size_t t = 0; t < touches.size(); ++t)
        if (margin(target, place, feature, t)) touches[t] = true;
    return touches;
  }
  [[nodiscard]] const Sight& sight(std::size_t place) const { return sights_.at({0, place}); }

 private:
  const MadeScene& scene_;
  std::map<std::pair<std::size_t, std::size_t>, Sight> sights_;
  std::vector<std::size_t> first_;
};

/// The rule of contract section 3 for a plane, written down again: the fitted plane's mean variance
/// over all of its points, at most 1.5 squared times that of all touches.
double mean_variance(const PlaneFeature& plane, const std::vector<bool>& taken) {
  const Vec3 x = any_perpendicular(plane.normal), y = plane.normal.cross(x);
  Eigen::Matrix3d normal = Eigen::Matrix3d::Zero();
  std::vector<Vec3> rows;
  for (const Vec3& at : plane.points) {
    const Vec3 r = (at - plane.points.front()) / 1000;
    rows.emplace_back(1, r.dot(x), r.dot(y));
  }
  for (std::size_t i = 0; i < rows.size(); ++i)
    if (taken[i]) normal += rows[i] * rows[i].transpose();
  if (std::abs(normal.determinant()) < 1e-9) return std::numeric_limits<double>::infinity();
  double sum = 0;
  for (const Vec3& row : rows) sum += row.dot(normal.inverse() * row);
  return sum / static_cast<double>(rows.size());
}

bool is_plane_enough(const Feature& feature, const std::vector<bool>& taken) {
  const auto count = std::count(taken.begin(), taken.end(), true);
  if (feature.enough_touches) return count >= *feature.enough_touches;
  const auto& plane = std::get<PlaneFeature>(feature.shape);
  return mean_variance(plane, taken) <=
         2.25 * mean_variance(plane, std::vector<bool>(taken.size(), true));
}

class Oracle {
 public:
  explicit Oracle(const MadeScene& scene) : scene_(scene), reach_(scene) {}

  [[nodiscard]] const TouchReach& reach() const { return reach_; }

  /// The verdict of a feature from these places: by one of them alone, else together.
  [[nodiscard]] Verdict verdict(std::size_t feature, const std::vector<std::size_t>& places) const {
    Verdict best = Verdict::blocked;
    for (const std::size_t place : places) best = std::min(best, by(feature, {place}));
    const bool may_be_split = scene_.features[feature].split && scene_.rules.split_features;
    return best == Verdict::blocked && may_be_split ? by(feature, places) : best;
  }

  [[nodiscard]] Worth worth(const std::vector<std::size_t>& places) const {
    int covered = 0, full = 0;
    double cost = 0;
    for (std::size_t f = 0; f < scene_.features.size(); ++f) {
      const Verdict one = verdict(f, places);
      covered += scene_.features[f].required && one != Verdict::blocked;
      full += one == Verdict::full_target;
    }
    for (const std::size_t place : places) cost += scene_.fixed_stations[place].cost;
    return {covered, -cost, full};
  }

  [[nodiscard]] Worth best_worth() const {
    Worth best{0, 0, 0};
    for (std::uint32_t set = 1; set < 1U << scene_.fixed_stations.size(); ++set) {
      std::vector<std::size_t> places;
      for (std::size_t p = 0; p < scene_.fixed_stations.size(); ++p)
        if ((set >> p & 1U) != 0) places.push_back(p);
      if (is_tied(places)) best = std::max(best, worth(places));
    }
    return best;
  }

  [[nodiscard]] bool is_tied(const std::vector<std::size_t>& places) const {
    std::vector<std::size_t> reached{places.front()};
    for (std::size_t i = 0; i < reached.size(); ++i)
      for (const std::size_t place : places)
        if (std::find(reached.begin(), reached.end(), place) == reached.end() &&
            are_linked(reached[i], place))
          reached.push_back(place);
    return reached.size() == places.size();
  }

 private:
  [[nodiscard]] Verdict by(std::size_t feature, const std::vector<std::size_t>& places) const {
    Verdict best = Verdict::blocked;
    const std::vector<TargetId>& allowed = scene_.features[feature].targets;
    for (std::size_t t = 0; t < target_count(scene_); ++t) {
      if (!allowed.empty() && allowed.front() != TargetId(t)) continue;
      if (is_plane_enough(scene_.features[feature], reach_.reached(t, feature, places)))
        best = std::min(best, is_full_target(scene_, TargetId(t)) ? Verdict::full_target
                                                                  : Verdict::offset_stylus);
    }
    return best;
  }

  [[nodiscard]] bool are_linked(std::size_t a, std::size_t b) const {
    std::vector<Vec3> shared;
    for (std::size_t n = 0; n < scene_.nests.size(); ++n)
      if (reach_.sight(a).nests[n].mark.verdict == Verdict::full_target &&
          reach_.sight(b).nests[n].mark.verdict == Verdict::full_target)
        shared.push_back(scene_.nests[n].at);
    return are_enough_to_link(scene_, shared);
  }

  const MadeScene& scene_;
  TouchReach reach_;
};

/// A long block among posts and walls that hide parts of its faces from everywhere.
MadeScene random_hall(Draw& draw) {
  MadeScene scene = bare_scene("hall");
  scene.full_targets = {ball_target(), ball_target("ball-22", 22)};
  scene.offset_styli = {mirror_stylus()};
  add_body(scene, "block", box({-2500, -300, -600}, {2500, 300, 0}), BodyRole::part);
  for (std::size_t f = 0; f < 2 + draw.below(3); ++f) {
    PlaneFeature plane;
    plane.normal = Vec3::UnitZ();
    const std::size_t points = 4 + draw.below(5);
    for (std::size_t p = 0; p < points; ++p)
      plane.points.push_back(draw.in_box({-2400, -250, 0}, {2400, 250, 0}));
    const FeatureId id = add_feature(scene, "top-" + std::to_string(f), plane);
    Feature& feature = scene.features[id.index];
    feature.required = draw.chance(0.8);
    feature.split = draw.chance(0.85);
    if (draw.chance(0.4)) feature.enough_touches = static_cast<int>(3 + draw.below(points - 2));
    if (draw.chance(0.2)) feature.targets = {TargetId(draw.below(3))};
  }
  if (draw.chance(0.8)) {
    const double y = draw.between(-120, 120);
    add_body(scene, "ridge", wall({-2450, y}, {2450, -y}, 0, draw.between(300, 1200), 12));
  }
  for (std::size_t i = 0; i < 3 + draw.below(5); ++i) {
    const Vec2 at(draw.between(-2400, 2400), draw.between(-260, 260));
    const std::string name = "fixture-" + std::to_string(i);
    if (draw.chance(0.5)) {
      add_body(scene, name, post(at.x(), at.y(), 0, draw.between(100, 900), 90, 8));
    } else {
      const Vec2 to = at + 500 * draw.direction().head<2>();
      add_body(scene, name, wall(at, to, 0, draw.between(100, 700), 20));
    }
  }
  for (std::size_t n = 0; n < 5; ++n)
    add_nest(scene, "N" + std::to_string(n), draw.in_box({-3000, -1500, 900}, {3000, 1500, 2200}));
  const bool do_costs_differ = draw.chance(0.4);
  for (std::size_t p = 0; p < 6; ++p) {
    FixedStation place;
    place.name = "P" + std::to_string(p);
    const double angle = draw.between(0, 2 * std::numbers::pi);
    place.at = {4000 * std::cos(angle), 2500 * std::sin(angle), draw.between(150, 700)};
    if (do_costs_differ) place.cost = 1 + 0.5 * static_cast<double>(draw.below(4));
    scene.fixed_stations.push_back(place);
  }
  return scene;
}

std::size_t place_of(const MadeScene& scene, const PlannedStation& station) {
  for (std::size_t p = 0; p < scene.fixed_stations.size(); ++p)
    if (scene.fixed_stations[p].name == station.name) return p;
  throw std::logic_error("a station that stands nowhere");
}

/// Each touch by the one target, from the place with the largest margin; the verdict the oracle's.
void expect_sound(const MadeScene& scene, const Oracle& oracle, const Plan& plan) {
  std::vector<std::size_t> places;
  for (const PlannedStation& station : plan.stations) places.push_back(place_of(scene, station));
  for (const PlannedFeature& planned : plan.features) {
    const std::size_t f = planned.feature.index;
    EXPECT_EQ(planned.verdict, oracle.verdict(f, places)) << scene.features[f].name;
    EXPECT_EQ(is_measured(planned), planned.verdict != Verdict::blocked);
    if (planned.stations.empty()) continue;
    EXPECT_FALSE(planned.station);
    EXPECT_TRUE(planned.also_from.empty());
    EXPECT_GE(planned.stations.size(), 2u);
    const FeatureMark& mark = *planned.shared_mark;
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t t = 0; t < mark.touches.size(); ++t) {
      std::optional<double> best;
      for (const std::size_t place : places) {
        const auto margin = oracle.reach().margin(planned.target->index, place, f, t);
        if (margin && (!best || *margin > *best)) best = margin;
      }
      ASSERT_EQ(mark.by_target[t].has_value(), best.has_value());
      ASSERT_EQ(planned.touch_stations[t].has_value(), best.has_value());
      if (!best) continue;
      const std::size_t from = places[planned.touch_stations[t]->index];
      EXPECT_EQ(mark.by_target[t]->target, *planned.target) << "targets never mix";
      EXPECT_EQ(mark.by_target[t]->margin, *best);
      EXPECT_EQ(oracle.reach().margin(planned.target->index, from, f, t), best);
      least = std::min(least, *best);
    }
    EXPECT_EQ(planned.margin, least);
  }
}

TEST(SplitFeatures, ThePlanIsAsGoodAsTheBestOfAllSetsOfStations) {
  constexpr std::uint64_t kSeed = 71;
  Draw draw(kSeed);
  std::size_t split = 0, full_and_split = 0;
  for (int i = 0; i < 60; ++i) {
    SCOPED_TRACE("seed 71 case " + std::to_string(i));
    const MadeScene scene = random_hall(draw);
    const Oracle oracle(scene);
    const auto plan = make_plan(cell_of(scene));
    ASSERT_TRUE(plan);
    std::vector<std::size_t> places;
    for (const PlannedStation& station : plan->stations) places.push_back(place_of(scene, station));
    const Worth best = oracle.best_worth();
    EXPECT_EQ(oracle.worth(places), std::get<0>(best) > 0 ? best : Worth(0, 0, 0));
    if (!places.empty()) {
      EXPECT_TRUE(oracle.is_tied(places));
    }
    EXPECT_EQ(plan->optimality.status, ProofStatus::optimal);
    expect_sound(scene, oracle, *plan);
    for (const PlannedFeature& planned : plan->features) {
      split += !planned.stations.empty();
      full_and_split += !planned.stations.empty() && planned.verdict == Verdict::full_target;
    }
  }
  EXPECT_GT(split, 20u) << "the halls are to have features that are shared";
  EXPECT_GT(full_and_split, 10u);
}

TEST(SplitFeatures, TheOrderOfFeaturesAndPlacesChangesNothing) {
  Draw draw(72);
  for (int i = 0; i < 20; ++i) {
    SCOPED_TRACE("seed 72 case " + std::to_string(i));
    const MadeScene scene = random_hall(draw);
    MadeScene other = scene;
    draw.shuffle(other.features);
    draw.shuffle(other.fixed_stations);
    const auto worth = [](const MadeScene& hall) {
      const auto plan = make_plan(cell_of(hall));
      std::vector<std::size_t> places;
      for (const PlannedStation& station : plan->stations)
        places.push_back(place_of(hall, station));
      return Oracle(hall).worth(places);
    };
    EXPECT_EQ(worth(scene), worth(other));
  }
}

/// A ridge along the middle of a plate hides each half from one side.
MadeScene ridge() {
  MadeScene scene = bare_scene("ridge");
  scene.full_targets = {ball_target()};
  add_body(scene, "plate", box({-1000, -400, -50}, {1000, 400, 0}), BodyRole::part);
  add_body(scene, "ridge", box({-1000, -10, 0}, {1000, 10, 600}), BodyRole::part);
  PlaneFeature plane;
  plane.normal = Vec3::UnitZ();
  for (const double x : {-900.0, 0.0, 900.0})
    for (const double y : {-200.0, 200.0}) plane.points.emplace_back(x, y, 0);
  add_feature(scene, "top", plane);
  for (const double x : {-1500.0, 0.0, 1500.0})
    add_nest(scene, "N" + std::to_string(static_cast<int>(x)), {x, x == 0 ? 500.0 : 0.0, 1500});
  scene.fixed_stations = {{"front", {0, -3000, 900}}, {"back", {0, 3000, 900}}};
  return scene;
}

TEST(SplitFeatures, APlateBehindARidgeIsTakenFromBothSides) {
  const auto plan = make_plan(cell_of(ridge()));
  ASSERT_TRUE(plan);
  const PlannedFeature& top = plan->features[0];
  EXPECT_EQ(top.verdict, Verdict::full_target);
  EXPECT_EQ(top.stations.size(), 2u);
  ASSERT_EQ(top.touch_stations.size(), 6u);
  for (std::size_t t = 0; t < 6; ++t)
    EXPECT_EQ(plan->stations[top.touch_stations[t]->index].name, t % 2 == 0 ? "front" : "back");
  ASSERT_TRUE(top.uncertainty);
  for (const auto& touch : top.touch_uncertainty) EXPECT_TRUE(touch.has_value());
}

TEST(SplitFeatures, FeatureRuleAndSeveralStationsForbidIt) {
  const auto is_blocked = [](const MadeScene& scene) {
    const auto plan = make_plan(cell_of(scene));
    return plan->features[0].verdict == Verdict::blocked && !is_measured(plan->features[0]);
  };
  MadeScene scene = ridge();
  scene.features[0].split = false;
  EXPECT_TRUE(is_blocked(scene));
  scene = ridge();
  scene.rules.split_features = false;
  EXPECT_TRUE(is_blocked(scene));
  scene = ridge();
  scene.rules.stations_per_feature = 2;
  EXPECT_TRUE(is_blocked(scene));
  scene = ridge();
  scene.nests.clear();
  EXPECT_FALSE(is_blocked(scene)) << "without nests no ties are asked";
  scene = ridge();
  scene.nests.pop_back();
  EXPECT_TRUE(is_blocked(scene)) << "stations that share it must be tied";
}

TEST(SplitFeatures, AHoleIsNeverSplit) {
  MadeScene scene = ridge();
  scene.full_targets = {ball_target("ball-12", 12.7)};
  scene.features[0].shape = HoleFeature{{0, 200, 0}, Vec3::UnitZ(), 50, 40};
  const auto plan = make_plan(cell_of(scene));
  EXPECT_TRUE(plan->features[0].stations.empty());
}

}  // namespace
}  // namespace standpoint::test
