// How many touches are enough: contract section 3, docs/touches.md.

#include "planner/reach/element.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <map>

#include <Eigen/Dense>

#include "tests/planner/scene_builder.h"

namespace standpoint::test {
namespace {

Feature feature_of(Shape shape) {
  Feature feature;
  feature.shape = std::move(shape);
  return feature;
}

TouchSet set_of(const Feature& feature, double radius = 2) {
  return touch_sets(feature, radius, bare_scene().rules).at(0);
}

bool enough(const Feature& feature, const std::vector<bool>& reached) {
  return is_enough(feature, set_of(feature), reached);
}

Feature square_plane() {
  return feature_of(PlaneFeature{{{0, 0, 5}, {50, 0, 5}, {50, 50, 5}, {0, 50, 5}}, Vec3::UnitZ()});
}

TEST(Enough, ThreeOfAPlanesFourCornersAre) {
  // Of a square's corners all four give variances 3/4 at each corner; three give 1 at each of
  // theirs and 3 at the fourth, on average 3/2: the standard error grows by sqrt 2 < 1.5.
  const Feature plane = square_plane();
  EXPECT_TRUE(enough(plane, {true, true, true, true}));
  for (std::size_t lost = 0; lost < 4; ++lost) {
    std::vector<bool> reached(4, true);
    reached[lost] = false;
    EXPECT_TRUE(enough(plane, reached)) << "without corner " << lost;
    reached[(lost + 1) % 4] = false;
    EXPECT_FALSE(enough(plane, reached)) << "two touches are no plane";
  }
}

TEST(Enough, ThreeInLineFixNoPlane) {
  const Feature plane = feature_of(PlaneFeature{
      {{0, 0, 5}, {25, 25, 5}, {50, 50, 5}, {0, 50, 5}, {100, 100, 5}}, Vec3::UnitZ()});
  EXPECT_FALSE(enough(plane, {true, true, true, false, true}));
  EXPECT_FALSE(enough(plane, {true, true, true, false, false}));
  EXPECT_TRUE(enough(plane, {true, true, true, true, true}));
  // Also when they are all there are.
  const Feature line =
      feature_of(PlaneFeature{{{0, 0, 5}, {25, 25, 5}, {50, 50, 5}}, Vec3::UnitZ()});
  EXPECT_FALSE(enough(line, {true, true, true}));
}

TEST(Enough, ACornerThatSwingsTheFarEndIsNotSpared) {
  // A long strip touched thrice at one end and once at the other: without the far end the three
  // near ones must carry the plane 20 times their spread away.
  const Feature plane =
      feature_of(PlaneFeature{{{0, 0, 0}, {10, 0, 0}, {0, 10, 0}, {200, 5, 0}}, Vec3::UnitZ()});
  EXPECT_FALSE(enough(plane, {true, true, true, false}));
}

TEST(Enough, SizeAndPlaceOfTheElementDoNotMatter) {
  Draw draw(5);
  for (int i = 0; i < 300; ++i) {
    const Pose pose = Eigen::Translation3d(draw.in_box(Vec3::Constant(-2e4), Vec3::Constant(2e4))) *
                      Eigen::AngleAxisd(draw.between(0, 6), draw.direction());
    const double scale = std::exp(draw.between(-3, 5));
    PlaneFeature plane{{}, Vec3::UnitZ()};
    for (int k = 0; k < 6; ++k) {
      plane.points.push_back(draw.in_box({0, 0, 0}, {10, 10, 0}));
    }
    std::vector<bool> reached(6);
    for (std::size_t k = 0; k < 6; ++k) reached[k] = draw.chance(0.7);
    PlaneFeature other = plane;
    for (Vec3& p : other.points) p *= scale;
    const bool here = enough(feature_of(plane), reached);
    EXPECT_EQ(here, enough(feature_of(moved(Shape(other), pose)), reached)) << "seed 5, case " << i;
  }
}

TEST(Enough, LeastNumbersAreThoseThatFixTheElement) {
  // BS 7172:1989 as remembered: plane 3, circle 3, sphere 4, cylinder 5; a point and a rim 1.
  const Vec3 at = Vec3::Zero(), up = Vec3::UnitZ();
  EXPECT_EQ(least_touches(feature_of(PointFeature{at, up}), Way::surface), 1);
  EXPECT_EQ(least_touches(square_plane(), Way::surface), 3);
  EXPECT_EQ(least_touches(feature_of(HoleFeature{at, up, 2, 9}), Way::rim), 1);
  EXPECT_EQ(least_touches(feature_of(HoleFeature{at, up, 2, 9}), Way::wall), 3);
  EXPECT_EQ(least_touches(feature_of(CylinderFeature{at, up, 2, 9, true}), Way::surface), 5);
  EXPECT_EQ(least_touches(feature_of(SphereFeature{at, up, 2}), Way::surface), 4);
  // A line 2, a cone 6 (likewise); a slot 5: shift, turn, width and length in its plane.
  EXPECT_EQ(least_touches(feature_of(LineFeature{at, Vec3::UnitX(), up}), Way::surface), 2);
  EXPECT_EQ(least_touches(feature_of(ConeFeature{at, up, 2, 0.5, 1, true}), Way::surface), 6);
  EXPECT_EQ(least_touches(feature_of(SlotFeature{at, up, Vec3::UnitX(), 8, 20, 9}), Way::wall), 5);
}

TEST(Enough, AtLeastCountsAndNothingElse) {
  Feature plane = square_plane();
  plane.enough_touches = 2;
  EXPECT_TRUE(enough(plane, {true, false, false, true}));
  EXPECT_FALSE(enough(plane, {true, false, false, false}));
  plane.enough_touches = 4;
  EXPECT_FALSE(enough(plane, {true, true, true, false}));
  EXPECT_TRUE(enough(plane, {true, true, true, true}));
  // A rim has but one touch, however many are asked of the wall.
  Feature hole = feature_of(HoleFeature{Vec3::Zero(), Vec3::UnitZ(), 2.5, 12});
  hole.enough_touches = 5;
  EXPECT_TRUE(is_enough(hole, set_of(hole, 3), {true}));
  EXPECT_FALSE(is_enough(hole, set_of(hole, 3), {false}));
}

// ---- against numerical differentiation of each element's own distance function ----

/// Signed distance of a place from the element with parameters q; q = 0 is the element as given.
/// Written from the elements' definitions: shares nothing with the program.
double distance_from(const Feature& feature, const Vec3& at, const Eigen::VectorXd& q) {
  struct Distance {
    const Vec3& at;
    const Eigen::VectorXd& q;
    [[nodiscard]] std::pair<Vec3, Vec3> frame(const Vec3& axis) const {
      const Vec3 seed = std::abs(axis.x()) < 0.6 ? Vec3::UnitX() : Vec3::UnitY();
      const Vec3 x = (seed - seed.dot(axis) * axis).normalized();
      return {x, axis.cross(x)};
    }
    double operator()(const PointFeature& p) const { return (at - p.at).dot(p.normal) - q[0]; }
    double operator()(const PlaneFeature& p) const {
      const auto [x, y] = frame(p.normal);
      const Vec3 normal = (p.normal + q[1] * x + q[2] * y).normalized();
      return (at - p.points[0] - q[0] * p.normal).dot(normal);
    }
    double operator()(const HoleFeature& h) const {
      const auto [x, y] = frame(h.axis);
      const Vec3 r = at - h.centre - q[0] * x - q[1] * y;
      return std::hypot(r.dot(x), r.dot(y)) - (h.radius + q[2]);
    }
    double operator()(const CylinderFeature& c) const {
      const auto [x, y] = frame(c.axis);
      const Vec3 axis = (c.axis + q[2] * x + q[3] * y).normalized();
      const Vec3 r = at - c.centre - q[0] * x - q[1] * y;
      return (r - r.dot(axis) * axis).norm() - (c.radius + q[4]);
    }
    double operator()(const SphereFeature& s) const {
      return (at - s.centre - q.head<3>()).norm() - (s.radius + q[3]);
    }
    /// Along the normal over the line, which is shifted and tilted in the plane of both.
    double operator()(const LineFeature& l) const {
      const Vec3 along = (l.to - l.from).normalized();
      const Vec3 normal = (l.normal - q[1] * along).normalized();
      return (at - l.from - q[0] * l.normal).dot(normal);
    }
    /// From the tip: the angle to the axis less the half-angle, times the way along the wall.
    double operator()(const ConeFeature& c) const {
      const auto [x, y] = frame(c.axis);
      const Vec3 axis = (c.axis + q[3] * x + q[4] * y).normalized();
      const Vec3 tip = c.centre + (c.radius / std::tan(c.half_angle_rad)) * c.axis + q[0] * x +
                       q[1] * y + q[2] * c.axis;
      const Vec3 r = tip - at;  // back along the axis
      const double half = c.half_angle_rad + q[5];
      const double along = r.dot(axis), off = (r - along * axis).norm();
      return (off * std::cos(half) - along * std::sin(half)) * (c.inside ? -1 : 1);
    }
    /// From the stadium in the plane of the slot: a stretch thickened by half the width.
    double operator()(const SlotFeature& s) const {
      const Vec3 across = s.axis.cross(s.along);
      const Vec3 along = std::cos(q[2]) * s.along + std::sin(q[2]) * across;
      const Vec3 r = at - s.centre - q[0] * s.along - q[1] * across;
      const double half = (s.length - s.width) / 2 + q[4];
      const double u = r.dot(along), v = r.dot(s.axis.cross(along));
      return std::hypot(std::max(std::abs(u) - half, 0.0), v) - (s.width / 2 + q[3]);
    }
    double operator()(const SurfaceFeature& /*s*/) const { return 0; }
  };
  return std::visit(Distance{at, q}, feature.shape);
}

Eigen::Index parameter_count(const Feature& feature) {
  constexpr Eigen::Index kCounts[] = {1, 3, 3, 5, 4, 2, 6, 5, 0};
  return kCounts[feature.shape.index()];
}

/// Mean variance over all touches of the element fitted to the reached ones, per variance of a
/// touch; infinite where they do not fix it.
double mean_variance_by_differences(const Feature& feature, const TouchSet& set,
                                    const std::vector<bool>& reached) {
  const Eigen::Index parameters = parameter_count(feature);
  const auto rows = static_cast<Eigen::Index>(set.touches.size());
  Eigen::MatrixXd all(rows, parameters);
  for (Eigen::Index i = 0; i < rows; ++i) {
    for (Eigen::Index k = 0; k < parameters; ++k) {
      Eigen::VectorXd plus = Eigen::VectorXd::Zero(parameters), minus = plus;
      plus[k] = 1e-4;
      minus[k] = -1e-4;
      const Vec3& at = set.touches[static_cast<std::size_t>(i)].at;
      all(i, k) = (distance_from(feature, at, plus) - distance_from(feature, at, minus)) / 2e-4;
    }
  }
  // Columns of like size, so that the rank can be judged.
  for (Eigen::Index k = 0; k < parameters; ++k) all.col(k) /= all.col(k).norm();
  Eigen::MatrixXd taken = Eigen::MatrixXd::Zero(rows, parameters);
  for (Eigen::Index i = 0; i < rows; ++i) {
    if (reached[static_cast<std::size_t>(i)]) taken.row(i) = all.row(i);
  }
  const Eigen::JacobiSVD<Eigen::MatrixXd> svd(taken, Eigen::ComputeThinV);
  const auto& w = svd.singularValues();
  if (w.minCoeff() < 1e-4 * w.maxCoeff()) return std::numeric_limits<double>::infinity();
  const Eigen::MatrixXd carried = all * svd.matrixV() * w.cwiseInverse().asDiagonal();
  return carried.squaredNorm() / static_cast<double>(rows);
}

TEST(Enough, AgreesWithNumericalDifferentiationOfEveryElement) {
  const std::uint64_t seed = 31;
  Draw draw(seed);
  std::map<std::size_t, std::array<int, 2>> tally;
  for (int i = 0; i < 7000; ++i) {
    const Vec3 centre = draw.in_box(Vec3::Constant(-500), Vec3::Constant(500));
    const Vec3 axis = draw.direction();
    Feature feature;
    switch (draw.below(7)) {
      case 0: {
        PlaneFeature plane{{}, axis};
        const std::size_t count = 3 + draw.below(6);
        for (std::size_t k = 0; k < count; ++k) {
          const Vec3 v = draw.in_box(Vec3::Constant(-200), Vec3::Constant(200));
          plane.points.emplace_back(centre + v - v.dot(axis) * axis);
        }
        feature.shape = plane;
        break;
      }
      case 1:
        feature.shape = HoleFeature{centre, axis, draw.between(5, 50), 30};
        feature.touch_count = 3 + static_cast<int>(draw.below(9));
        break;
      case 2:
        feature.shape = CylinderFeature{centre, axis, draw.between(20, 200), draw.between(20, 400),
                                        draw.chance(0.5)};
        feature.touch_count = 5 + static_cast<int>(draw.below(12));
        break;
      case 3: {
        feature.shape =
            LineFeature{centre, centre + draw.between(10, 400) * any_perpendicular(axis), axis};
        feature.touch_count = 2 + static_cast<int>(draw.below(9));
        break;
      }
      case 4: {
        const double half = draw.between(5, 70) * kDeg, radius = draw.between(20, 200);
        const double longest = 2 * radius / std::tan(half);
        feature.shape = ConeFeature{
            centre, axis, radius, half, draw.between(0.1, 0.9) * longest, draw.chance(0.5)};
        feature.touch_count = 6 + static_cast<int>(draw.below(12));
        break;
      }
      case 5: {
        const double width = draw.between(10, 50);
        feature.shape = SlotFeature{
            centre, axis, any_perpendicular(axis), width, width * draw.between(1.2, 6), 30};
        feature.touch_count = 5 + static_cast<int>(draw.below(12));
        break;
      }
      default:
        feature.shape = SphereFeature{centre, axis, draw.between(10, 100)};
        feature.touch_count = 4 + static_cast<int>(draw.below(9));
    }
    const TouchSet set = set_of(feature);
    std::vector<bool> reached(set.touches.size());
    const double share = draw.between(0.4, 1);
    for (std::size_t k = 0; k < reached.size(); ++k) reached[k] = draw.chance(share);
    const double growth = std::sqrt(
        mean_variance_by_differences(feature, set, reached) /
        mean_variance_by_differences(feature, set, std::vector<bool>(reached.size(), true)));
    if (std::abs(growth - 1.5) < 1e-4) continue;
    const bool is = is_enough(feature, set, reached);
    ASSERT_EQ(is, growth < 1.5) << "seed " << seed << ", case " << i << ", shape "
                                << feature.shape.index() << ", growth " << growth;
    ++tally[feature.shape.index()][is ? 0 : 1];
  }
  EXPECT_EQ(tally.size(), 7u);
  for (const auto& [shape, counts] : tally) {
    EXPECT_GT(counts[0], 40) << "shape " << shape;
    EXPECT_GT(counts[1], 40) << "shape " << shape;
  }
}

TEST(Enough, OfASurfaceAreTheShareOfItsTouchesRoundedUp) {
  SurfaceFeature surface;
  for (int i = 0; i < 10; ++i) surface.touches.push_back({Vec3(i, 0, 0), Vec3::UnitZ()});
  for (const auto& [share, least] :
       {std::pair{0.9, 9}, {0.91, 10}, {0.7, 7}, {0.1, 1}, {0.01, 1}, {1.0, 10}}) {
    surface.share = share;
    const Feature feature = feature_of(surface);
    EXPECT_EQ(least_touches(feature, Way::surface), least) << share;
    std::vector<bool> reached(10, false);
    for (int i = 0; i < 10; ++i) {
      EXPECT_EQ(enough(feature, reached), i >= least) << share << ", " << i << " reached";
      reached[static_cast<std::size_t>(9 - i)] = true;
    }
    EXPECT_TRUE(enough(feature, reached));
  }
}

}  // namespace
}  // namespace standpoint::test
