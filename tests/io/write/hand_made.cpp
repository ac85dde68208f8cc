#include "tests/io/write/hand_made.h"

#include <cmath>
#include <numbers>

namespace standpoint::hand_made {
namespace {

constexpr double kDegree = std::numbers::pi / 180;

Mesh mesh(std::vector<Vec3> vertices) {
  Mesh result;
  result.vertices = std::move(vertices);
  for (std::uint32_t v = 0; v + 2 < result.vertices.size(); ++v)
    result.triangles.push_back({v, v + 1, v + 2});
  return result;
}

void add_bodies(Scene& scene) {
  scene.bodies = {{"column-a", BodyRole::fixture}, {"table", BodyRole::part}};
}

void add_targets(Scene& scene) {
  scene.full_targets = {{"ball-38", 19.05, 30 * kDegree, 42 * kDegree}};
  MirrorStylus mirror;
  mirror.name = "mirror-6";
  mirror.shank = {3, 2, 20};
  mirror.length = 85;
  mirror.head_radius = 23;
  mirror.swing_rad = 11 * kDegree;
  TwoBallStylus rod;
  rod.name = "rod-2x";
  rod.shank = {3, 4, 20};
  rod.ball_distances = {150, 350};
  rod.ball_radius = 6.35;
  rod.acceptance_rad = 30 * kDegree;
  scene.offset_styli = {mirror, rod};
}

void add_features(Scene& scene) {
  const auto point = [](std::string name, const Vec3& at) {
    Feature feature;
    feature.name = std::move(name);
    feature.shape = PointFeature{at, Vec3::UnitZ()};
    return feature;
  };
  Feature dowel;
  dowel.name = "dowel-3";
  dowel.shape = HoleFeature{{80, 40, 800}, Vec3::UnitZ(), 2.5, 12};
  scene.features = {point("pad-1", {500, 250, 800}), dowel, point("boss", {1500, 500, 800}),
                    point("spare", {1900, 900, 2900})};
  scene.features[0].tolerance = 0.4;
  scene.features[3].required = false;
}

TouchMark touch(const Vec3& at, Verdict verdict, std::optional<Reached> best) {
  TouchMark mark;
  mark.at = at;
  mark.normal = Vec3::UnitZ();
  mark.verdict = verdict;
  if (best) mark.margin = best->margin;
  mark.best = std::move(best);
  return mark;
}

FeatureMark reached_mark(FeatureId feature, Verdict verdict, TouchMark mark, Way way) {
  FeatureMark result;
  result.feature = feature;
  result.verdict = verdict;
  result.target = mark.best->target;
  result.margin = mark.best->margin;
  result.way = way;
  result.by_target = {mark.best};
  result.touches = {std::move(mark)};
  return result;
}

FeatureMark blocked_mark(FeatureId feature, const Vec3& at, std::vector<Cause> causes) {
  TouchMark mark = touch(at, Verdict::blocked, std::nullopt);
  for (const Cause& cause : causes) {
    if (cause.rule == Rule::beam) mark.margin = cause.margin;
  }
  mark.causes = std::move(causes);
  FeatureMark result;
  result.feature = feature;
  result.margin = mark.margin;
  result.touches = {std::move(mark)};
  result.by_target = {std::nullopt};
  return result;
}

FeatureMark pad_mark() {
  return reached_mark(kPad, Verdict::full_target,
                      touch({500, 250, 800}, Verdict::full_target,
                            Reached{kBall, 12.5, std::nullopt, {Vec3(500, 250 - 19.05, 819.05)}}),
                      Way::surface);
}

FeatureMark boss_mark() {
  Cause far;
  far.target = kMirror;
  far.rule = Rule::out_of_range;
  far.distance = 45000;
  return blocked_mark(kBoss, {1500, 500, 800}, {broken_beam(), far});
}

FeatureMark spare_mark() {
  Cause steep;
  steep.target = kBall;
  steep.rule = Rule::elevation;
  return blocked_mark(kSpare, {1900, 900, 2900}, {steep});
}

std::vector<NestMark> nest_marks(const Scene& scene) {
  std::vector<NestMark> marks;
  for (std::size_t n = 0; n < scene.nests.size(); ++n) {
    marks.push_back({NestId(n), touch(scene.nests[n].at, Verdict::full_target,
                                      Reached{kBall, 30.1, std::nullopt, {scene.nests[n].at}})});
  }
  // Nothing stands anywhere near the beam to the last one.
  marks.back().mark.best->margin = std::numeric_limits<double>::infinity();
  marks.back().mark.margin = std::numeric_limits<double>::infinity();
  return marks;
}

PlannedStation station(std::string name, const Vec3& at, std::optional<std::uint32_t> zone) {
  PlannedStation result;
  result.name = std::move(name);
  result.at = at;
  result.zone = zone;
  result.nests = {NestId(std::size_t{0}), NestId(std::size_t{1}), NestId(std::size_t{3})};
  Eigen::Matrix<double, 6, 6> pose = Eigen::Matrix<double, 6, 6>::Zero();
  pose.diagonal() << 4e-4, 4e-4, 1e-4, 1e-10, 2e-10, 3e-10;
  pose(0, 4) = pose(4, 0) = 5e-8;
  result.pose_covariance = pose;
  return result;
}

PointUncertainty uncertainty(double x, double y, double z) {
  PointUncertainty result;
  result.covariance = Vec3(x, y, z).asDiagonal();
  result.expanded = 2 * std::sqrt(std::max({x, y, z}));
  return result;
}

PlannedFeature measured(const FeatureMark& mark, StationId from, const PointUncertainty& u) {
  PlannedFeature planned;
  planned.feature = mark.feature;
  planned.verdict = mark.verdict;
  planned.station = from;
  planned.target = mark.target;
  planned.margin = mark.margin;
  planned.touch_uncertainty = {u};
  planned.uncertainty = u;
  return planned;
}

PlannedFeature blocked(FeatureId feature) {
  PlannedFeature planned;
  planned.feature = feature;
  return planned;
}

}  // namespace

Cause broken_beam() {
  Cause cause;
  cause.target = kBall;
  cause.rule = Rule::beam;
  cause.body = kColumn;
  cause.face = "face 3";
  cause.triangle = TriangleId(std::size_t{0});
  cause.distance = 1834.2;
  cause.margin = -12.4;
  cause.at = Vec3(1050, 0, 1000);
  return cause;
}

Meshes meshes() {
  Mesh column = mesh({{1000, 0, 0}, {1200, 0, 0}, {1000, 0, 2500}});
  column.face_of_triangle = {1};
  column.face_names = {"face 2", "face 3"};
  Mesh table = mesh({{0, 0, 800}, {2000, 0, 800}, {0, 1000, 800}, {2000, 1000, 800}});
  return {std::make_shared<const Mesh>(std::move(column)),
          std::make_shared<const Mesh>(std::move(table))};
}

Cell cell() {
  return {scene(), meshes()};
}

Scene scene() {
  Scene scene;
  scene.name = "bay 7";
  scene.units = "m";
  scene.mm_per_unit = 1000;
  add_bodies(scene);
  scene.instrument.range = {400, 40000};
  scene.instrument.elevation_rad = {-60 * kDegree, 75 * kDegree};
  scene.instrument.body_radius = 160;
  scene.instrument.body_above = 180;
  scene.instrument.body_below = 320;
  add_targets(scene);
  add_features(scene);
  const auto nest = [](std::string name, const Vec3& at) {
    return Nest{std::move(name), at, Vec3::UnitZ(), 45 * kDegree};
  };
  scene.nests = {nest("N1", {2000, -500, 300}), nest("N2", {-500, -500, 300}),
                 nest("N3", {-500, 1500, 300}), nest("N4", {2500, 1500, 2600})};
  scene.fixed_stations = {{"door", {3000, -2500, 1400}, false}};
  scene.zones = {{"south aisle",
                  0,
                  {{-1000, -4000}, {5000, -4000}, {5000, -2000}, {-1000, -2000}},
                  {1100, 1500},
                  500}};
  scene.walkways = {{"gangway", 0, {{-2000, -1500}, {4000, -1500}, {4000, -900}, {-2000, -900}}}};
  return scene;
}

Sight sight() {
  const Scene cell = scene();
  Sight sight;
  sight.at = {500, -2500, 1500};
  sight.features = {pad_mark(), blocked_mark(kDowel, {80, 40, 800}, {}), boss_mark(), spare_mark()};
  sight.nests = nest_marks(cell);
  return sight;
}

Plan plan() {
  Plan plan;
  plan.stations = {station("S1", {500, -2500, 1500}, 0), station("door", {3000, -2500, 1400}, {})};
  plan.stations[0].sight = sight();
  Sight from_door = sight();
  from_door.at = plan.stations[1].at;
  from_door.features[1] =
      reached_mark(kDowel, Verdict::offset_stylus,
                   touch({80, 40, 800}, Verdict::offset_stylus,
                         // The tip of 6 mm on the rim of a hole of 5 mm: sqrt(3^2 - 2.5^2) over it.
                         Reached{kMirror,
                                 3.25,
                                 Vec3(0.6, 0, 0.8),
                                 {Vec3(140, 40, 880)},
                                 Vec3(80, 40, 800 + std::sqrt(2.75))}),
                   Way::rim);
  plan.stations[1].sight = from_door;
  plan.features = {measured(pad_mark(), kS1, uncertainty(1e-4, 4e-4, 1e-4)),
                   measured(from_door.features[1], kDoor, uncertainty(1e-4, 1e-4, 9e-4)),
                   blocked(kBoss), blocked(kSpare)};
  plan.features[0].also_from = {kDoor};
  plan.links = {{kS1, kDoor, plan.stations[0].nests}};
  plan.optimality = {ProofStatus::feasible, 2, 1, std::nullopt, {7, false, 3e-4}};
  plan.candidates = {240, 12, 5, 3};
  plan.unreached = {{kBoss, boss_mark(), plan.stations[0].at},
                    {kSpare, spare_mark(), plan.stations[1].at}};
  plan.warnings = {{WarningKind::unreached, {kBoss}, {}, {}, 1},
                   {WarningKind::tight, {kDowel}, {}, {}, 5}};
  return plan;
}

}  // namespace standpoint::hand_made
