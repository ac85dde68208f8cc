#include "planner/setup/resection.h"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "geometry/vec.h"
#include "planner/model/tolerances.h"
#include "planner/network/budget.h"
#include "planner/network/chi_square.h"
#include "planner/setup/rigid_fit.h"
#include "planner/setup/unit_slip.h"
#include "planner/stations/some_off_line.h"
#include "planner/stations/ties.h"

namespace standpoint {
namespace {

constexpr double kSound = 0.95;
/// Chance that some nest of a sound set-up is called suspect.
constexpr double kSuspectLevel = 0.01;
/// A misfit that chance gives so rarely is looked into for mirrored frames and swapped names: at
/// the 95 % bound one sound set-up in twenty would be, and an all but symmetric one might be
/// blamed.
constexpr double kGross = 1 - 1e-6;
/// All pairs of more nests than anybody reads would take seconds.
constexpr std::size_t kMostExchanged = 100;

int degrees_of_freedom_of(std::size_t points) {
  return 3 * static_cast<int>(points) - 6;
}

double bound_of(std::size_t points, double level) {
  return chi_square_quantile(degrees_of_freedom_of(points), level);
}

/// No direction better than the network takes it to be, so that weights stay finite.
Mat3 floored(const Mat3& covariance) {
  const Eigen::SelfAdjointEigenSolver<Mat3> eigen(covariance);
  const double least = tolerance::kLeastSigma * tolerance::kLeastSigma;
  return eigen.eigenvectors() * eigen.eigenvalues().cwiseMax(least).asDiagonal() *
         eigen.eigenvectors().transpose();
}

std::vector<FitPoint> points_of(const Scene& scene, const std::vector<SeenNest>& seen) {
  std::vector<FitPoint> points;
  for (const SeenNest& one : seen) {
    FitPoint point{scene.nests[one.nest.index].at, one.at, Mat3::Identity()};
    if (states_error(scene.instrument)) {
      point.covariance = floored(with_repeatability(
          observation_covariance(scene.instrument.error, Vec3::Zero(), one.at), scene.environment));
    }
    points.push_back(point);
  }
  return points;
}

bool are_off_line(const std::vector<FitPoint>& points) {
  std::vector<Vec3> places;
  places.reserve(points.size());
  for (const FitPoint& point : points) places.push_back(point.in_world);
  return some_off_line(places, 3) == SomeOffLine::yes;
}

std::vector<SetUpFault> faults_of_input(const Scene& scene, const std::vector<SeenNest>& seen) {
  std::vector<SetUpFault> faults;
  std::map<NestId, std::vector<std::size_t>> by_nest;
  for (std::size_t i = 0; i < seen.size(); ++i) {
    if (seen[i].nest.index >= scene.nests.size()) {
      faults.push_back({SetUpFaultKind::unknown_nest, {i}});
    } else {
      by_nest[seen[i].nest].push_back(i);
    }
    if (seen[i].at.isZero(0)) faults.push_back({SetUpFaultKind::at_instrument, {i}});
  }
  std::vector<Vec3> places;
  for (const auto& [nest, all] : by_nest) {
    places.push_back(scene.nests[nest.index].at);
    if (all.size() > 1) faults.push_back({SetUpFaultKind::repeated_nest, all});
  }
  if (by_nest.size() < 3) {
    faults.push_back({SetUpFaultKind::too_few, {}});
  } else if (some_off_line(places, 3) != SomeOffLine::yes) {
    faults.push_back({SetUpFaultKind::in_line, {}});
  }
  return faults;
}

std::optional<double> wrong_scale(const std::vector<FitPoint>& points) {
  std::vector<Vec3> read, known;
  for (const FitPoint& point : points) {
    read.push_back(point.in_instrument);
    known.push_back(point.in_world);
  }
  return unit_slip(read, known);
}

bool comes_under_bound(const std::vector<FitPoint>& points) {
  return fit_rigidly(points).chi_square <= bound_of(points.size(), kSound);
}

bool is_mirrored(std::vector<FitPoint> points) {
  const Mat3 mirror = Vec3(-1, 1, 1).asDiagonal();
  for (FitPoint& point : points) {
    point.in_instrument = mirror * point.in_instrument;
    point.covariance = mirror * point.covariance * mirror;
  }
  return comes_under_bound(points);
}

/// The only two whose exchange makes the rest fit.
std::optional<std::pair<std::size_t, std::size_t>> swapped(std::vector<FitPoint> points) {
  std::optional<std::pair<std::size_t, std::size_t>> found;
  if (points.size() > kMostExchanged) return found;
  for (std::size_t i = 0; i < points.size(); ++i) {
    for (std::size_t k = i + 1; k < points.size(); ++k) {
      std::swap(points[i].in_world, points[k].in_world);
      const bool fits = comes_under_bound(points);
      std::swap(points[i].in_world, points[k].in_world);
      if (!fits) continue;
      if (found) return std::nullopt;
      found = {i, k};
    }
  }
  return found;
}

LeaveOneOut leave_out(std::vector<FitPoint> points, std::size_t which, double chi_square) {
  LeaveOneOut without;
  points.erase(points.begin() + static_cast<std::ptrdiff_t>(which));
  without.is_tried = are_off_line(points);  // never with fewer than three
  if (!without.is_tried) return without;
  const RigidFit fit = fit_rigidly(points);
  without.drop = std::max(0.0, chi_square - fit.chi_square);
  without.others_fit = fit.chi_square <= bound_of(points.size(), kSound);
  without.measuring_centre = fit.world_from_instrument.translation();
  return without;
}

void test(const std::vector<FitPoint>& points, const RigidFit& fit, RealStation& set_up) {
  const std::size_t n = points.size();
  set_up.is_tested = true;
  set_up.normalised = fit.normalised;
  set_up.chi_square = fit.chi_square;
  set_up.degrees_of_freedom = degrees_of_freedom_of(n);
  set_up.chi_bound = bound_of(n, kSound);
  set_up.fits = fit.chi_square <= set_up.chi_bound;
  set_up.pose_covariance = fit.covariance;
  set_up.drop_bound = chi_square_quantile(3, 1 - kSuspectLevel / static_cast<double>(n));
  double greatest = set_up.drop_bound;
  for (std::size_t i = 0; i < n; ++i) {
    set_up.without.push_back(leave_out(points, i, fit.chi_square));
    if (set_up.without[i].drop <= greatest) continue;
    greatest = set_up.without[i].drop;
    set_up.suspect = i;
  }
  for (std::size_t i = 0; set_up.suspect && i < n; ++i) {
    const LeaveOneOut& without = set_up.without[i];
    if (i != *set_up.suspect && without.others_fit && without.drop > set_up.drop_bound)
      set_up.rivals.push_back(i);
  }
}

}  // namespace

Stance stance_of(const RealStation& station) {
  if (station.tilt_rad <= tolerance::kUprightTilt) return station.measuring_centre;
  return {station.measuring_centre, Vec3(station.world_from_instrument.linear().col(2))};
}

SetUpResult resect(const Scene& scene, const std::vector<SeenNest>& seen) {
  if (auto faults = faults_of_input(scene, seen); !faults.empty())
    return {std::nullopt, std::move(faults)};
  const std::vector<FitPoint> points = points_of(scene, seen);
  if (const auto scale = wrong_scale(points))
    return {std::nullopt, {{SetUpFaultKind::wrong_units, {}, *scale}}};
  const RigidFit fit = fit_rigidly(points);
  const bool is_tested = states_error(scene.instrument);
  if (is_tested && fit.chi_square > bound_of(points.size(), kGross)) {
    if (is_mirrored(points)) return {std::nullopt, {{SetUpFaultKind::mirrored, {}}}};
    if (const auto pair = swapped(points))
      return {std::nullopt, {{SetUpFaultKind::swapped_names, {pair->first, pair->second}}}};
  }
  RealStation set_up;
  set_up.world_from_instrument = fit.world_from_instrument;
  set_up.measuring_centre = fit.world_from_instrument.translation();
  set_up.tilt_rad = angle_between(fit.world_from_instrument.linear().col(2), Vec3::UnitZ());
  set_up.seen = seen;
  set_up.residuals = fit.residuals;
  if (is_tested) test(points, fit, set_up);
  return {std::move(set_up), {}};
}

}  // namespace standpoint
