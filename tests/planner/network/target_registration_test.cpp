#include <gtest/gtest.h>

#include <cmath>

#include "networks.h"

// Target registration error of rigid fits: what the network must give where it is one.
//
// Why the formulas apply: let every station see every nest with the same isotropic sigma. Split
// each station's observations into a rigid motion of all nests and the rest. The datum (inner
// constraints over the nests) lets the adjusted nests have no rigid part, so the rigid part of a
// station's observation errors is left to its pose alone: its pose errs as an unweighted rigid fit
// of N points with isotropic error does, that is with the fiducial localisation error FLE^2 = 3
// sigma^2, whatever the other stations see. A single station needs no isotropy: its adjusted nests
// are its own observations, and the datum is then an unweighted rigid fit whatever their
// covariance.

namespace standpoint {
namespace {

NetworkInput all_see_all(const std::vector<Vec3>& nests, const std::vector<Vec3>& stations,
                         const Mat3& covariance) {
  NetworkInput input;
  input.nests = nests;
  input.stations = stations;
  for (std::uint32_t s = 0; s < stations.size(); ++s)
    for (std::uint32_t n = 0; n < nests.size(); ++n)
      input.observations.push_back({s, n, covariance});
  return input;
}

double tre_squared(const NetworkInput& input, std::uint32_t station, const Vec3& target) {
  const NetworkResult result = solve_network(input);
  EXPECT_TRUE(result.network.has_value());
  if (!result.network) return -1;
  return carry_pose(result.network->pose_covariance[station], input.stations[station], target)
      .trace();
}

const std::vector<Vec3> kKite = {{1, 1, 0}, {-.5, .5, 0}, {-1, -1, 0}, {.5, -.5, 0}};
const std::vector<Vec3> kSquare = {{1, 1, 0}, {-1, 1, 0}, {-1, -1, 0}, {1, -1, 0}};
const std::vector<Vec3> kRectangle = {
    {35.5, 27, 0}, {-35.5, 27, 0}, {-35.5, -27, 0}, {35.5, -27, 0}};
const std::vector<Vec3> kMidSides = {{35.5, 0, 0}, {-35.5, 0, 0}, {0, 27, 0}, {0, -27, 0}};

// Fitzpatrick, West and Maurer, IEEE Trans. Med. Imaging 17(5) (1998), eq. 46, FLE^2 = 1. Values:
// the public test suite of scikit-surgerycore.
TEST(TargetRegistration, FitzpatrickIsotropic) {
  const Mat3 fle = Mat3::Identity() / 3;
  for (const std::size_t count : {1u, 2u, 5u}) {
    std::vector<Vec3> stations;
    for (std::size_t i = 0; i < count; ++i)
      stations.push_back({3.0 + static_cast<double>(i), -4, 2.5 * static_cast<double>(i) - 1});
    for (std::uint32_t s = 0; s < count; ++s) {
      EXPECT_NEAR(tre_squared(all_see_all(kKite, stations, fle), s, {0, 0, 0}), .25, 1e-9);
      EXPECT_NEAR(tre_squared(all_see_all(kKite, stations, fle), s, {2, 0, 0}), 1.35, 1e-9);
      EXPECT_NEAR(tre_squared(all_see_all(kSquare, stations, fle), s, {2, 0, 0}), .75, 1e-9);
    }
  }
}

// Rectangle 71 x 54, FLE rms .33 (inputs after West and Maurer 2004, values computed from eq. 46).
TEST(TargetRegistration, RectangleOfFour) {
  const Mat3 fle = Mat3::Identity() * (.33 * .33 / 3);
  const std::vector<Vec3> stations = {{900, -300, 200}, {-800, 500, 100}};
  const auto tre = [&](const std::vector<Vec3>& nests, double x) {
    return std::sqrt(tre_squared(all_see_all(nests, stations, fle), 1, {x, 0, 0}));
  };
  EXPECT_NEAR(tre(kRectangle, 85), .33498, 5e-6);
  EXPECT_NEAR(tre(kRectangle, 170), .60595, 5e-6);
  EXPECT_NEAR(tre(kMidSides, 85), .44407, 5e-6);
  EXPECT_NEAR(tre(kMidSides, 170), .84091, 5e-6);
}

// Anisotropic FLE, uniform weights (inputs Wiles 2008, values computed): a single station, see
// above.
TEST(TargetRegistration, AnisotropicErrorWithUniformWeights) {
  const Mat3 fle = Vec3(1. / 99, 1. / 99, 1. / 11).asDiagonal();
  const NetworkInput input = all_see_all(kRectangle, {{500, 700, 300}}, fle);
  const NetworkResult result = solve_network(input);
  ASSERT_TRUE(result.network);
  const Mat3 tre = carry_pose(result.network->pose_covariance[0], input.stations[0], {170, 0, 0});
  const Mat3 expected = Vec3(.0025253, .0392123, .5439081).asDiagonal();
  EXPECT_LT((tre - expected).cwiseAbs().maxCoeff(), 5e-8);
}

// Linked frames: a probe (70 x 40) and a reference square (radius 63.6) are both watched by one
// instrument with FLE rms .33. The probe and the reference know their own markers (sigma a
// thousandth); the datum is laid on the reference's markers. TRE of the probe's tip: the root sum
// square of .63460 (tip 170 off the probe) and 1.05077 (400 off the reference) = 1.22753.
TEST(TargetRegistration, LinkedFramesAddInQuadrature) {
  const Vec3 tip(400, 0, 0);  // the reference is about the origin
  const Vec3 probe = tip - Vec3(170, 0, 0);
  NetworkInput input;
  for (const auto& [x, y] : {std::pair{35, 20}, {-35, 20}, {-35, -20}, {35, -20}})
    input.nests.push_back(probe + Vec3(x, y, 0));
  for (const auto& [x, y] : {std::pair{63.6, 0.}, {-63.6, 0.}, {0., 63.6}, {0., -63.6}})
    input.nests.push_back({x, y, 0});
  input.stations = {probe, {0, 0, 0}, {300, -900, 400}};
  const double variance = .33 * .33 / 3;
  for (std::uint32_t n = 0; n < 8; ++n) {
    input.observations.push_back({2, n, Mat3::Identity() * variance});
    input.observations.push_back({n < 4 ? 0u : 1u, n, Mat3::Identity() * variance * 1e-6});
  }
  input.datum_nests = {4, 5, 6, 7};
  EXPECT_NEAR(std::sqrt(tre_squared(input, 0, tip)), 1.22753, 1e-5);
  // Each link alone: the instrument against the reference, at the tip.
  EXPECT_NEAR(std::sqrt(tre_squared(input, 2, tip)), 1.05077, 1e-5);
  input.datum_nests = {0, 1, 2, 3};
  EXPECT_NEAR(std::sqrt(tre_squared(input, 2, tip)), .63460, 1e-5);
}

}  // namespace
}  // namespace standpoint
