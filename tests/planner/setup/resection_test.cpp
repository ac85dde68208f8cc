#include "planner/setup/resection.h"

#include <array>
#include <cmath>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>

#include "geometry/vec.h"
#include "tests/planner/scene_builder.h"

namespace standpoint::test {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

const std::vector<Vec3> kNests = {{0, 0, 300},       {4200, -300, 350},  {3900, 2600, 900},
                                  {-600, 3100, 400}, {1800, 1500, 2200}, {2500, -900, 1300}};

MadeScene scene_with(const std::vector<Vec3>& places) {
  MadeScene scene = bare_scene();
  for (std::size_t i = 0; i < places.size(); ++i)
    add_nest(scene, "N" + std::to_string(i + 1), places[i]);
  return scene;
}

Pose stand() {
  Pose pose = Pose::Identity();
  pose.linear() =
      (Eigen::AngleAxisd(2.1, Vec3::UnitZ()) * Eigen::AngleAxisd(0.004, Vec3(1, 2, 0).normalized()))
          .toRotationMatrix();
  pose.translation() = Vec3(1500, -4000, 1400);
  return pose;
}

std::vector<SeenNest> seen_from(const Pose& world_from_instrument, const MadeScene& scene) {
  std::vector<SeenNest> seen;
  for (std::size_t i = 0; i < scene.nests.size(); ++i)
    seen.push_back({NestId(i), world_from_instrument.inverse() * scene.nests[i].at});
  return seen;
}

/// Standard normal, Box and Muller.
double normal(Draw& draw) {
  return std::sqrt(-2 * std::log(draw.between(1e-16, 1))) *
         std::cos(2 * std::numbers::pi * draw.between(0, 1));
}

/// An error drawn range and angles apart, as contract section 6 states them: the same law as the
/// program's covariance, reached another way.
Vec3 drawn_error(Draw& draw, const InstrumentError& error, const Vec3& at) {
  const double distance = at.norm();
  const auto sigma = [&](const ErrorTerm& term) {
    return (term.fixed + term.per_mm * distance) / error.coverage_factor;
  };
  const Vec3 beam = at / distance, across = any_perpendicular(beam), third = beam.cross(across);
  Vec3 sum = sigma(error.radial) * normal(draw) * beam;
  sum += sigma(error.transverse) * normal(draw) * across;
  sum += sigma(error.transverse) * normal(draw) * third;
  return sum;
}

std::vector<SetUpFaultKind> kinds(const SetUpResult& result) {
  std::vector<SetUpFaultKind> all;
  for (const SetUpFault& fault : result.faults) all.push_back(fault.kind);
  EXPECT_EQ(result.set_up.has_value(), all.empty());
  return all;
}

TEST(Resection, FindsWhereTheInstrumentStands) {
  const MadeScene scene = scene_with(kNests);
  const SetUpResult result = resect(scene, seen_from(stand(), scene));
  ASSERT_TRUE(result.set_up);
  EXPECT_LT((result.set_up->measuring_centre - Vec3(1500, -4000, 1400)).norm(), 1e-8);
  EXPECT_NEAR(result.set_up->tilt_rad, 0.004, 1e-9);
  EXPECT_EQ(result.set_up->degrees_of_freedom, 12);
  // 95 % of chi-square with 12 degrees of freedom: printed tables, e.g. NIST/SEMATECH
  // e-Handbook 1.3.6.7.4.
  EXPECT_NEAR(result.set_up->chi_bound, 21.026, 5e-4);
  EXPECT_TRUE(result.set_up->fits);
  EXPECT_FALSE(result.set_up->suspect);
}

// 3000 set-ups drawn: the spread of the poses is the predicted covariance, chi-square has its 3n -
// 6 degrees of freedom, each drop has 3, and sound nests are called suspect no oftener than stated.
TEST(Resection, SpreadOfDrawnSetUpsIsAsPredicted) {
  const MadeScene scene = scene_with(kNests);
  const Pose truth = stand();
  const std::vector<SeenNest> exact = seen_from(truth, scene);
  const Mat6 predicted = *resect(scene, exact).set_up->pose_covariance;
  const Mat6 root = predicted.llt().matrixL();
  constexpr int kTrials = 3000;
  constexpr std::uint64_t kSeed = 20;
  SCOPED_TRACE("seed 20");
  Draw draw(kSeed);
  Mat6 spread = Mat6::Zero();
  double chi_square = 0, drop = 0;
  int suspects = 0, misfits = 0;
  for (int i = 0; i < kTrials; ++i) {
    std::vector<SeenNest> seen = exact;
    for (SeenNest& one : seen) one.at += drawn_error(draw, scene.instrument.error, one.at);
    const SetUpResult result = resect(scene, seen);
    ASSERT_TRUE(result.set_up) << i;
    const RealStation& set_up = *result.set_up;
    Vec6 error;
    error.head<3>() = set_up.measuring_centre - truth.translation();
    const Eigen::AngleAxisd turn(set_up.world_from_instrument.linear() *
                                 truth.linear().transpose());
    error.tail<3>() = turn.angle() * turn.axis();
    const Vec6 unit = root.triangularView<Eigen::Lower>().solve(error);
    spread += unit * unit.transpose() / kTrials;
    chi_square += set_up.chi_square / kTrials;
    for (const LeaveOneOut& without : set_up.without)
      drop += without.drop / (kTrials * static_cast<double>(kNests.size()));
    suspects += set_up.suspect.has_value();
    misfits += !set_up.fits;
  }
  // Each entry of the unit spread has standard deviation sqrt(2/N) = .026 on the diagonal, .018 off
  // it; five of them. Means: sqrt(24/N) = .09, and .045 at most for the drops.
  EXPECT_LT((spread - Mat6::Identity()).cwiseAbs().maxCoeff(), 0.13);
  EXPECT_NEAR(chi_square, 12, 0.45);
  EXPECT_NEAR(drop, 3, 0.23);
  EXPECT_LE(suspects, 30 + 5 * 5.5);  // 1 % of 3000 at most, and five standard deviations
  EXPECT_NEAR(misfits, 150, 5 * 12);  // 5 %
}

TEST(Resection, NamesTheNestThatIsOffByTwoTenths) {
  const MadeScene scene = scene_with(kNests);
  Draw draw(5);
  for (std::size_t off = 0; off < kNests.size(); ++off) {
    SCOPED_TRACE("seed 5, nest " + std::to_string(off));
    std::vector<SeenNest> seen = seen_from(stand(), scene);
    for (SeenNest& one : seen) one.at += drawn_error(draw, scene.instrument.error, one.at);
    seen[off].at += 0.2 * draw.direction();
    const SetUpResult result = resect(scene, seen);
    ASSERT_TRUE(result.set_up);
    EXPECT_FALSE(result.set_up->fits);
    EXPECT_EQ(result.set_up->suspect, off);
    EXPECT_TRUE(result.set_up->without[off].others_fit);
    EXPECT_LT((result.set_up->without[off].measuring_centre - stand().translation()).norm(), 0.1);
  }
}

TEST(Resection, WithThreeNestsNoneCanBeLeftOut) {
  const MadeScene scene = scene_with({kNests[0], kNests[1], kNests[2]});
  std::vector<SeenNest> seen = seen_from(stand(), scene);
  seen[1].at += Vec3(0.5, 0.5, 0);
  const SetUpResult result = resect(scene, seen);
  ASSERT_TRUE(result.set_up);
  EXPECT_EQ(result.set_up->degrees_of_freedom, 3);
  EXPECT_FALSE(result.set_up->fits);
  EXPECT_FALSE(result.set_up->suspect);
  for (const LeaveOneOut& without : result.set_up->without) EXPECT_FALSE(without.is_tried);
}

TEST(Resection, ANestWithoutWhichTheRestIsInLineIsNotTried) {
  const MadeScene scene = scene_with({{0, 0, 0}, {1000, 0, 0}, {2000, 0, 0}, {1000, 2000, 0}});
  const SetUpResult result = resect(scene, seen_from(stand(), scene));
  ASSERT_TRUE(result.set_up);
  EXPECT_TRUE(result.set_up->without[0].is_tried);
  EXPECT_FALSE(result.set_up->without[3].is_tried);
}

TEST(Resection, WithFourNestsSeveralMayBeToBlame) {
  const MadeScene scene = scene_with({kNests[0], kNests[1], kNests[2], kNests[3]});
  std::vector<SeenNest> seen = seen_from(stand(), scene);
  // Up, nearly across the plane of the four: as if any of them stood off the plane of the others.
  seen[3].at += 0.3 * Vec3::UnitZ();
  const SetUpResult result = resect(scene, seen);
  ASSERT_TRUE(result.set_up && result.set_up->suspect);
  EXPECT_FALSE(result.set_up->fits);
  EXPECT_EQ(result.set_up->rivals.size(), 3u);
}

TEST(Resection, WithoutAStatedErrorNothingIsTested) {
  MadeScene scene = scene_with(kNests);
  scene.instrument.error = {};
  std::vector<SeenNest> seen = seen_from(stand(), scene);
  seen[2].at.x() += 5;
  const SetUpResult result = resect(scene, seen);
  ASSERT_TRUE(result.set_up);
  EXPECT_FALSE(result.set_up->is_tested);
  EXPECT_FALSE(result.set_up->suspect);
  EXPECT_FALSE(result.set_up->pose_covariance);
  EXPECT_THAT(result.set_up->normalised, IsEmpty());
  // Equal weights: the residuals of an unweighted fit add up to nothing.
  Vec3 sum = Vec3::Zero();
  for (const Vec3& residual : result.set_up->residuals) sum += residual;
  EXPECT_LT(sum.norm(), 1e-9);
}

TEST(Resection, AStatedRepeatabilityOfNestsIsAllowedFor) {
  MadeScene scene = scene_with(kNests);
  std::vector<SeenNest> seen = seen_from(stand(), scene);
  seen[2].at.x() += 0.2;
  EXPECT_FALSE(resect(scene, seen).set_up->fits);
  scene.environment.nest_repeatability = 0.1;
  EXPECT_TRUE(resect(scene, seen).set_up->fits);
}

TEST(Resection, ToldAtOnceUnknownRepeatedAndTooFew) {
  const MadeScene scene = scene_with(kNests);
  const std::vector<SeenNest> seen = {{NestId(0), {1000, 0, 0}},
                                      {NestId(9), {2000, 0, 0}},
                                      {NestId(0), {1000, 0, 1}},
                                      {NestId(1), {0, 0, 0}}};
  const SetUpResult result = resect(scene, seen);
  EXPECT_THAT(kinds(result),
              ElementsAre(SetUpFaultKind::unknown_nest, SetUpFaultKind::at_instrument,
                          SetUpFaultKind::repeated_nest, SetUpFaultKind::too_few));
  EXPECT_THAT(result.faults[0].seen, ElementsAre(1));
  EXPECT_THAT(result.faults[1].seen, ElementsAre(3));
  EXPECT_THAT(result.faults[2].seen, ElementsAre(0, 2));
  EXPECT_THAT(kinds(resect(scene, {})), ElementsAre(SetUpFaultKind::too_few));
}

TEST(Resection, NestsInOneLineFixNoSetUp) {
  const MadeScene scene = scene_with({{0, 0, 0}, {1000, 10, 0}, {3000, 0, 10}, {4000, 0, 0}});
  EXPECT_THAT(kinds(resect(scene, seen_from(stand(), scene))),
              ElementsAre(SetUpFaultKind::in_line));
}

TEST(Resection, TellsWrongUnits) {
  const MadeScene scene = scene_with(kNests);
  // mm, cm, m, in, ft against each other.
  for (const double scale :
       {1000., 100., 10., 25.4, 304.8, 2.54, 30.48, 12., 39.3700787, 3.2808399}) {
    for (const double factor : {scale, 1 / scale}) {
      SCOPED_TRACE(factor);
      std::vector<SeenNest> seen = seen_from(stand(), scene);
      for (SeenNest& one : seen) one.at /= factor;
      const SetUpResult result = resect(scene, seen);
      ASSERT_THAT(kinds(result), ElementsAre(SetUpFaultKind::wrong_units));
      EXPECT_NEAR(result.faults[0].scale / factor, 1, 1e-9);
    }
  }
  // A scale that is no ratio of units is a misfit, not a unit.
  std::vector<SeenNest> seen = seen_from(stand(), scene);
  for (SeenNest& one : seen) one.at *= 1.5;
  EXPECT_THAT(kinds(resect(scene, seen)), IsEmpty());
}

TEST(Resection, NamesTheTwoWhoseNamesAreSwapped) {
  for (const std::size_t count : {3u, 4u, 6u}) {
    const MadeScene scene =
        scene_with({kNests.begin(), kNests.begin() + static_cast<std::ptrdiff_t>(count)});
    for (std::size_t i = 0; i < count; ++i) {
      for (std::size_t k = i + 1; k < count; ++k) {
        std::vector<SeenNest> seen = seen_from(stand(), scene);
        std::swap(seen[i].at, seen[k].at);
        const SetUpResult result = resect(scene, seen);
        ASSERT_THAT(kinds(result), ElementsAre(SetUpFaultKind::swapped_names))
            << count << ' ' << i << ' ' << k;
        EXPECT_THAT(result.faults[0].seen, ElementsAre(i, k));
      }
    }
  }
}

TEST(Resection, TellsAMirroredFrame) {
  const MadeScene scene = scene_with(kNests);
  std::vector<SeenNest> seen = seen_from(stand(), scene);
  for (SeenNest& one : seen) one.at.y() = -one.at.y();
  EXPECT_THAT(kinds(resect(scene, seen)), ElementsAre(SetUpFaultKind::mirrored));
}

// Nests of one plane look the same in a mirror: the documented limit, and its sign.
TEST(Resection, InOnePlaneAMirroredFrameStandsOnItsHead) {
  const MadeScene scene =
      scene_with({{0, 0, 300}, {4200, -300, 300}, {3900, 2600, 300}, {0, 3100, 300}});
  std::vector<SeenNest> seen = seen_from(stand(), scene);
  for (SeenNest& one : seen) one.at.y() = -one.at.y();
  const SetUpResult result = resect(scene, seen);
  ASSERT_TRUE(result.set_up);
  EXPECT_GT(result.set_up->tilt_rad, 3.1);
}

}  // namespace
}  // namespace standpoint::test
