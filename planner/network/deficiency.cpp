#include "planner/network/deficiency.h"

#include <Eigen/Eigenvalues>
#include <Eigen/SVD>
#include <algorithm>
#include <cmath>
#include <numeric>
#include <set>

#include "geometry/tolerances.h"
#include "planner/model/tolerances.h"
#include "planner/network/network.h"
#include "planner/network/propagate.h"

namespace standpoint {
namespace {

/// A station as a rigid body, referred to the centre and the spread of the nests it sees, so that
/// turning and shifting it have like weight wherever its measuring centre is.
struct RigidStation {
  std::vector<std::uint32_t> nests = {};  ///< distinct, ascending
  Vec3 centre = Vec3::Zero();
  double scale = 1;
};

std::vector<RigidStation> rigid_stations(const NetworkInput& input) {
  std::vector<std::set<std::uint32_t>> nests(input.stations.size());
  for (const NestObservation& o : input.observations) nests[o.station].insert(o.nest);
  std::vector<RigidStation> bodies(input.stations.size());
  for (std::size_t i = 0; i < bodies.size(); ++i) {
    RigidStation& body = bodies[i];
    body.nests.assign(nests[i].begin(), nests[i].end());
    body.centre = input.stations[i];
    if (body.nests.empty()) continue;
    const auto count = static_cast<double>(body.nests.size());
    Vec3 sum = Vec3::Zero();
    for (const std::uint32_t nest : body.nests) sum += input.nests[nest];
    body.centre = sum / count;
    double square = 0;
    for (const std::uint32_t nest : body.nests)
      square += (input.nests[nest] - body.centre).squaredNorm();
    // One nest, or all in one place: no spread of its own, any length will do.
    if (square > 0) body.scale = std::sqrt(square / count);
  }
  return bodies;
}

/// How far the stations' ideas of each shared nest's place part when the stations move: the sum
/// over nests of the squared distances from their mean, as a quadratic form of the stations'
/// motions.
Eigen::MatrixXd disagreement(const NetworkInput& input, const std::vector<RigidStation>& bodies) {
  const auto size = static_cast<Eigen::Index>(6 * bodies.size());
  Eigen::MatrixXd form = Eigen::MatrixXd::Zero(size, size);
  std::vector<std::vector<std::uint32_t>> observers(input.nests.size());
  for (std::uint32_t i = 0; i < bodies.size(); ++i)
    for (const std::uint32_t nest : bodies[i].nests) observers[nest].push_back(i);
  for (std::size_t nest = 0; nest < observers.size(); ++nest) {
    const std::vector<std::uint32_t>& seen = observers[nest];
    if (seen.size() < 2) continue;
    const double share = 1 / static_cast<double>(seen.size());
    std::vector<Eigen::Matrix<double, 3, 6>> shifts;
    shifts.reserve(seen.size());
    for (const std::uint32_t i : seen)
      shifts.push_back(rigid_shift(input.nests[nest] - bodies[i].centre, bodies[i].scale));
    for (std::size_t i = 0; i < seen.size(); ++i)
      for (std::size_t j = 0; j < seen.size(); ++j)
        form.block<6, 6>(first_row(seen[i]), first_row(seen[j])) +=
            ((i == j ? 1.0 : 0.0) - share) * shifts[i].transpose() * shifts[j];
  }
  return form;
}

/// The motions of all stations that no observation resists, as columns (the rigid motions of
/// everything among them).
Eigen::MatrixXd flexes(const Eigen::MatrixXd& form) {
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> eigen(form);
  const Eigen::VectorXd& values = eigen.eigenvalues();
  const double floor = tolerance::kHingeRatio * values[values.size() - 1];
  Eigen::Index count = 0;
  while (count < values.size() && values[count] <= floor) ++count;
  return eigen.eigenvectors().leftCols(count);
}

/// How `body` moves in each flex beyond going along with `base` as one piece.
Eigen::MatrixXd motion_against(const Eigen::MatrixXd& flex, const std::vector<RigidStation>& bodies,
                               std::size_t base, std::size_t body) {
  Mat6 along = Mat6::Zero();
  along.topRows<3>() = rigid_shift(bodies[body].centre - bodies[base].centre, bodies[base].scale);
  along.bottomRightCorner<3, 3>() = Mat3::Identity() * (bodies[body].scale / bodies[base].scale);
  const Eigen::MatrixXd motion =
      flex.middleRows<6>(first_row(body)) - along * flex.middleRows<6>(first_row(base));
  return motion / std::max(1.0, along.norm());
}

int degrees_of_freedom_against(const Eigen::MatrixXd& flex, const std::vector<RigidStation>& bodies,
                               std::size_t base, std::size_t body) {
  const Eigen::MatrixXd motion = motion_against(flex, bodies, base, body);
  const Eigen::JacobiSVD<Eigen::MatrixXd> svd(motion);
  return static_cast<int>((svd.singularValues().array() > tolerance::kSameMotion).count());
}

/// Stations that hold one another, each set ascending, sets by their lowest station.
using Groups = std::vector<std::vector<std::uint32_t>>;

Groups groups_of(const Eigen::MatrixXd& flex, const std::vector<RigidStation>& bodies) {
  Groups groups;
  for (std::uint32_t i = 0; i < bodies.size(); ++i) {
    const auto home = std::find_if(groups.begin(), groups.end(), [&](const auto& group) {
      return degrees_of_freedom_against(flex, bodies, group.front(), i) == 0;
    });
    if (home == groups.end())
      groups.push_back({i});
    else
      home->push_back(i);
  }
  return groups;
}

std::set<std::uint32_t> nests_of(const std::vector<RigidStation>& bodies,
                                 const std::vector<std::uint32_t>& group) {
  std::set<std::uint32_t> nests;
  for (const std::uint32_t i : group) nests.insert(bodies[i].nests.begin(), bodies[i].nests.end());
  return nests;
}

std::vector<std::uint32_t> common(const std::set<std::uint32_t>& a,
                                  const std::set<std::uint32_t>& b) {
  std::vector<std::uint32_t> both;
  std::set_intersection(a.begin(), a.end(), b.begin(), b.end(), std::back_inserter(both));
  return both;
}

/// The group that the others are said to move against.
std::size_t base_of(const Groups& groups, const std::vector<RigidStation>& bodies) {
  const auto shared = [&](std::size_t g) {
    std::set<std::uint32_t> others;
    for (std::size_t h = 0; h < groups.size(); ++h)
      if (h != g) others.merge(nests_of(bodies, groups[h]));
    return common(nests_of(bodies, groups[g]), others).size();
  };
  std::size_t base = 0;
  for (std::size_t g = 1; g < groups.size(); ++g) {
    const auto size = groups[g].size(), best = groups[base].size();
    if (size > best || (size == best && shared(g) > shared(base))) base = g;
  }
  return base;
}

/// The tie of one group to the stations already reached from the base.
Deficiency tie_of(const NetworkInput& input, const std::set<std::uint32_t>& own,
                  const std::set<std::uint32_t>& reached) {
  const std::vector<std::uint32_t> nests = common(own, reached);
  std::vector<Vec3> places;
  places.reserve(nests.size());
  for (const std::uint32_t nest : nests) places.push_back(input.nests[nest]);
  Deficiency tie = tie_through(places);
  tie.nests = nests;
  if (own.empty())
    tie.tie = Tie::no_nest;
  else if (nests.empty())
    tie.tie = Tie::none_shared;
  return tie;
}

/// Goes out from the base, always to the group that is tied best to what is reached, so that each
/// is named by its nearest tie towards the base.
std::vector<Deficiency> name_ties(const NetworkInput& input, const Eigen::MatrixXd& flex,
                                  const std::vector<RigidStation>& bodies, Groups groups) {
  std::vector<Deficiency> deficient;
  const std::size_t base = base_of(groups, bodies);
  const std::uint32_t root = groups[base].front();
  std::set<std::uint32_t> reached = nests_of(bodies, groups[base]);
  groups.erase(groups.begin() + static_cast<std::ptrdiff_t>(base));
  while (!groups.empty()) {
    std::size_t next = 0;
    Deficiency best;
    for (std::size_t g = 0; g < groups.size(); ++g) {
      Deficiency tie = tie_of(input, nests_of(bodies, groups[g]), reached);
      if (g > 0 && tie.degrees_of_freedom >= best.degrees_of_freedom) continue;
      next = g;
      best = std::move(tie);
    }
    for (const std::uint32_t station : groups[next]) {
      Deficiency entry = best;
      entry.station = station;
      entry.degrees_of_freedom = degrees_of_freedom_against(flex, bodies, root, station);
      for (const std::uint32_t other : groups[next])
        if (other != station) entry.moves_with.push_back(other);
      deficient.push_back(std::move(entry));
    }
    reached.merge(nests_of(bodies, groups[next]));
    groups.erase(groups.begin() + static_cast<std::ptrdiff_t>(next));
  }
  std::sort(deficient.begin(), deficient.end(),
            [](const Deficiency& a, const Deficiency& b) { return a.station < b.station; });
  return deficient;
}

}  // namespace

Deficiency tie_through(const std::vector<Vec3>& places) {
  Deficiency tie;
  if (places.empty()) {
    tie.degrees_of_freedom = 6;
    return tie;
  }
  const Vec3 sum = std::accumulate(places.begin(), places.end(), Vec3(Vec3::Zero()));
  const Vec3 centre = sum / static_cast<double>(places.size());
  Mat3 moments = Mat3::Zero();
  for (const Vec3& p : places) moments += (p - centre) * (p - centre).transpose();
  const Eigen::SelfAdjointEigenSolver<Mat3> eigen(moments);
  const double spread = eigen.eigenvalues()[2];
  // Rounding of the coordinates themselves, so that equal places read as one.
  const double noise = tolerance::margin_error(centre.cwiseAbs().maxCoeff());
  if (spread <= noise * noise * static_cast<double>(places.size())) {
    tie.degrees_of_freedom = 3;
    tie.tie = places.size() == 1 ? Tie::one_nest : Tie::one_place;
    tie.pivot = places.front();
  } else if (eigen.eigenvalues()[1] <= tolerance::kHingeRatio * spread) {
    tie.degrees_of_freedom = 1;
    tie.tie = places.size() == 2 ? Tie::two_nests : Tie::one_line;
    tie.pivot = centre;
    tie.axis = eigen.eigenvectors().col(2);
  } else {
    tie.tie = Tie::linkage;
  }
  return tie;
}

std::vector<Deficiency> find_deficiencies(const NetworkInput& input) {
  if (input.stations.size() < 2) return {};
  const std::vector<RigidStation> bodies = rigid_stations(input);
  const Eigen::MatrixXd flex = flexes(disagreement(input, bodies));
  Groups groups = groups_of(flex, bodies);
  if (groups.size() < 2) return {};
  return name_ties(input, flex, bodies, std::move(groups));
}

}  // namespace standpoint
