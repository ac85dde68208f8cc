#include <ceres/ceres.h>
#include <ceres/rotation.h>
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <memory>

#include "networks.h"
#include "planner/network/touch_uncertainty.h"
#include "tests/draw.h"

// The network adjusted independently: Ceres on simulated range, azimuth and elevation, automatic
// derivatives, the first station held (a minimal constraint), carried into the datum by an
// S-transform (Baarda) written here.

namespace standpoint {
namespace {

using namespace testing;

struct PolarResidual {
  Vec3 measured, sigma, station;

  template <class T>
  bool operator()(const T* pose, const T* nest, T* residual) const {
    const T away[3] = {nest[0] - station[0] - pose[0], nest[1] - station[1] - pose[1],
                       nest[2] - station[2] - pose[2]};
    const T back[3] = {-pose[3], -pose[4], -pose[5]};
    T local[3];
    ceres::AngleAxisRotatePoint(back, away, local);
    const Eigen::Matrix<T, 3, 1> rae =
        polar<T>(Eigen::Matrix<T, 3, 1>(local[0], local[1], local[2]));
    for (int k = 0; k < 3; ++k) {
      T difference = rae[k] - measured[k];
      if (k == 1) {
        if (difference > M_PI) difference -= 2 * M_PI;
        if (difference < -M_PI) difference += 2 * M_PI;
      }
      residual[k] = difference / sigma[k];
    }
    return true;
  }
};

/// One simulated job and its adjustment.
struct Simulation {
  const NetworkInput& input;
  std::vector<std::array<double, 6>> poses;
  std::vector<Vec3> nests;
  std::unique_ptr<ceres::Problem> problem;

  Simulation(const NetworkInput& in, test::Draw& draw) : input(in), nests(in.nests) {
    poses.resize(in.stations.size());
    problem = std::make_unique<ceres::Problem>();
    for (const NestObservation& o : in.observations) {
      const Vec3 local = in.nests[o.nest] - in.stations[o.station];
      const Vec3 sigma = polar_sigma(example_error(), local);
      Vec3 measured = polar<double>(local);
      for (int k = 0; k < 3; ++k) measured[k] += sigma[k] * draw.normal();
      problem->AddResidualBlock(new ceres::AutoDiffCostFunction<PolarResidual, 3, 6, 3>(
                                    new PolarResidual{measured, sigma, in.stations[o.station]}),
                                nullptr, poses[o.station].data(), nests[o.nest].data());
    }
    problem->SetParameterBlockConstant(poses[0].data());
  }

  void adjust() {
    ceres::Solver::Options options;
    options.linear_solver_type = ceres::DENSE_SCHUR;
    options.max_num_iterations = 30;
    options.function_tolerance = 1e-14;
    options.parameter_tolerance = 1e-14;
    options.num_threads = 1;
    options.logging_type = ceres::SILENT;
    ceres::Solver::Summary summary;
    ceres::Solve(options, problem.get(), &summary);
    ASSERT_TRUE(summary.IsSolutionUsable());
  }

  /// Of all stations, then all nests, in the frame of the first station.
  [[nodiscard]] Eigen::MatrixXd covariance() const {
    std::vector<const double*> blocks;
    std::vector<int> sizes;
    for (const auto& pose : poses) blocks.push_back(pose.data()), sizes.push_back(6);
    for (const Vec3& nest : nests) blocks.push_back(nest.data()), sizes.push_back(3);
    ceres::Covariance::Options options;
    options.algorithm_type = ceres::DENSE_SVD;
    ceres::Covariance solver(options);
    EXPECT_TRUE(solver.Compute(blocks, problem.get()));
    int size = 0;
    for (const int s : sizes) size += s;
    Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor> all(size, size);
    EXPECT_TRUE(solver.GetCovarianceMatrix(blocks, all.data()));
    return all;
  }
};

/// S = I - G (D^T G)^-1 D^T: rigid motions G of everything, of which D keeps the datum's nests
/// still.
Eigen::MatrixXd into_datum(const NetworkInput& input, const Eigen::MatrixXd& covariance) {
  const auto size = covariance.rows();
  const auto stations = static_cast<Eigen::Index>(input.stations.size());
  Vec3 centre = Vec3::Zero();
  for (const Vec3& nest : input.nests) centre += nest / static_cast<double>(input.nests.size());
  Eigen::MatrixXd rigid = Eigen::MatrixXd::Zero(size, 6), datum = rigid;
  for (int k = 0; k < 3; ++k) {
    const Vec3 axis = Vec3::Unit(k);
    for (Eigen::Index s = 0; s < stations; ++s) {
      rigid.block<3, 1>(6 * s, k) = axis;
      rigid.block<3, 1>(6 * s, 3 + k) = axis.cross(input.stations[s] - centre);
      rigid.block<3, 1>(6 * s + 3, 3 + k) = axis;
    }
    for (std::size_t n = 0; n < input.nests.size(); ++n) {
      const Eigen::Index row = 6 * stations + 3 * static_cast<Eigen::Index>(n);
      rigid.block<3, 1>(row, k) = axis;
      rigid.block<3, 1>(row, 3 + k) = axis.cross(input.nests[n] - centre);
    }
  }
  datum.bottomRows(size - 6 * stations) = rigid.bottomRows(size - 6 * stations);
  const Eigen::MatrixXd keep = Eigen::MatrixXd::Identity(size, size) -
                               rigid * (datum.transpose() * rigid).inverse() * datum.transpose();
  return keep * covariance * keep.transpose();
}

TEST(Ceres, AgreesAsAnIndependentAdjustmentOfSimulatedObservations) {
  for (std::uint64_t seed = 1; seed <= 4; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    const NetworkInput input = random_network(seed, 2 + seed % 3, 5 + seed);
    const NetworkResult predicted = solve_network(input);
    ASSERT_TRUE(predicted.network);
    test::Draw draw(seed + 1000);
    Simulation simulation(input, draw);
    const auto check = [&](double tolerance) {
      const Eigen::MatrixXd expected = into_datum(input, simulation.covariance());
      const auto stations = static_cast<Eigen::Index>(input.stations.size());
      for (Eigen::Index s = 0; s < stations; ++s)
        EXPECT_LT(relative_difference(in_mm(predicted.network->pose_covariance[s]),
                                      in_mm(expected.block<6, 6>(6 * s, 6 * s))),
                  tolerance);
      for (std::size_t n = 0; n < input.nests.size(); ++n) {
        const Eigen::Index row = 6 * stations + 3 * static_cast<Eigen::Index>(n);
        EXPECT_LT(relative_difference(predicted.network->nest_covariance[n],
                                      expected.block<3, 3>(row, row)),
                  tolerance);
      }
    };
    check(1e-6);  // linearised about the nominal places
    simulation.adjust();
    check(1e-3);  // about the adjusted ones: sigma over range, some 1e-5
  }
}

/// Turns and shifts adjusted nests back onto the nominal ones by an unweighted rigid fit: to first
/// order the datum of inner constraints.
Eigen::Isometry3d onto_nominal(const NetworkInput& input, const std::vector<Vec3>& nests) {
  Eigen::Matrix3Xd from(3, nests.size()), to(3, nests.size());
  for (std::size_t n = 0; n < nests.size(); ++n) {
    from.col(static_cast<Eigen::Index>(n)) = nests[n];
    to.col(static_cast<Eigen::Index>(n)) = input.nests[n];
  }
  return Eigen::Isometry3d(Eigen::umeyama(from, to, false));
}

/// Bounds of chi^2 with `degrees of freedom` degrees over its mean: the normal approximation of
/// Wilson and Hilferty (1931) at `z` standard deviations.
std::pair<double, double> chi_square_bounds(double degrees_of_freedom, double z) {
  const double v = 2 / (9 * degrees_of_freedom);
  return {std::pow(1 - v - z * std::sqrt(v), 3), std::pow(1 - v + z * std::sqrt(v), 3)};
}

/// Whether errors agree with their predicted covariance: the sum of e^T C^-1 e is chi^2, and so is
/// each variance over its prediction.
template <int Size>
void expect_spread(const std::vector<Eigen::Matrix<double, Size, 1>>& errors,
                   const Eigen::Matrix<double, Size, Size>& predicted) {
  const double trials = static_cast<double>(errors.size());
  double sum = 0;
  Eigen::Matrix<double, Size, 1> squares = Eigen::Matrix<double, Size, 1>::Zero();
  for (const auto& e : errors) {
    sum += e.dot(predicted.ldlt().solve(e));
    squares += e.cwiseAbs2();
  }
  // Beyond 3.9 sigma one check in 10 000 falls by chance; there are 85, with one seed.
  const auto [low, high] = chi_square_bounds(trials * Size, 3.9);
  EXPECT_GT(sum / (trials * Size), low);
  EXPECT_LT(sum / (trials * Size), high);
  const auto [less, more] = chi_square_bounds(trials, 3.9);
  for (int k = 0; k < Size; ++k) {
    EXPECT_GT(squares[k] / trials / predicted(k, k), less) << "component " << k;
    EXPECT_LT(squares[k] / trials / predicted(k, k), more) << "component " << k;
  }
}

TEST(Ceres, TheSpreadOf2000AdjustmentsAgreesWithThePrediction) {
  const NetworkInput input = random_network(77, 3, 7);
  const std::vector<Vec3> touches = {{1500, 400, 900}, {-3500, 2500, 300}};
  const Network network = *solve_network(input).network;
  const Vec3 rod = Vec3(.3, -.2, .9).normalized();

  std::vector<std::vector<Vec6>> pose_errors(3);
  std::vector<std::vector<Vec3>> nest_errors(7), touch_errors(6), tip_errors(3);
  test::Draw draw(2000);
  for (int trial = 0; trial < 2000; ++trial) {
    Simulation simulation(input, draw);
    simulation.adjust();
    const Eigen::Isometry3d datum = onto_nominal(input, simulation.nests);
    for (std::size_t n = 0; n < 7; ++n)
      nest_errors[n].push_back(datum * simulation.nests[n] - input.nests[n]);
    for (std::uint32_t s = 0; s < 3; ++s) {
      const auto& p = simulation.poses[s];
      const Mat3 turned = datum.linear() * turn({p[3], p[4], p[5]});
      const Vec3 centre = datum * (input.stations[s] + Vec3(p[0], p[1], p[2]));
      const Eigen::AngleAxisd rotation(turned);
      Vec6 error;
      error << centre - input.stations[s], rotation.angle() * rotation.axis();
      pose_errors[s].push_back(error);
      const auto observe = [&](const Vec3& place) {
        const Vec3 local = place - input.stations[s];
        Vec3 noise;
        for (double& x : noise) x = draw.normal();
        const Vec3 sigma = polar_sigma(example_error(), local);
        const Vec3 seen = from_polar(polar<double>(local) + sigma.cwiseProduct(noise));
        return Vec3(centre + turned * seen);
      };
      for (std::size_t t = 0; t < 2; ++t)
        touch_errors[2 * s + t].push_back(observe(touches[t]) - touches[t]);
      const Vec3 near = observe(touches[0] + 150 * rod), far = observe(touches[0] + 350 * rod);
      tip_errors[s].push_back(near + .75 * (near - far) - touches[0]);
    }
  }
  for (std::uint32_t s = 0; s < 3; ++s) {
    SCOPED_TRACE("station " + std::to_string(s));
    expect_spread<6>(pose_errors[s], network.pose_covariance[s]);
    const auto predicted = [&](const Reading& reading) {
      return touch_covariance(network.pose_covariance[s], input.stations[s], reading,
                              reading_covariance(example_error(), input.stations[s], reading));
    };
    for (std::size_t t = 0; t < 2; ++t)
      expect_spread<3>(touch_errors[2 * s + t], predicted(direct_reading(touches[t])));
    expect_spread<3>(tip_errors[s], predicted(two_ball_reading(touches[0], rod, {150, 350})));
  }
  for (std::size_t n = 0; n < 7; ++n) expect_spread<3>(nest_errors[n], network.nest_covariance[n]);
}

}  // namespace
}  // namespace standpoint
