#include "planner/network/adjustment.h"

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>
#include <Eigen/QR>
#include <cassert>
#include <cmath>
#include <numeric>
#include <utility>

#include "planner/model/tolerances.h"
#include "planner/network/propagate.h"

namespace standpoint {
namespace {

/// Eigen adds up large products in blocks that fit the processor's caches, and so in another order
/// on another processor: the last bits of a network of some forty stations or more would be the
/// machine's own. These are Eigen's own sizes for an x86 processor that does not tell: L1, L2, L3,
/// bytes. They hold for the whole process, and are set before it has threads.
constexpr std::ptrdiff_t kKibibyte = 1024;
[[maybe_unused]] const bool kBlocksAreSettled =
    (Eigen::setCpuCacheSizes(32 * kKibibyte, 256 * kKibibyte, 2048 * kKibibyte), true);

double rms_distance(const std::vector<Vec3>& places, const Vec3& centre) {
  double sum = 0;
  for (const Vec3& place : places) sum += (place - centre).squaredNorm();
  return places.empty() ? 0 : std::sqrt(sum / static_cast<double>(places.size()));
}

}  // namespace

/// Builds an `Adjustment` step by step.
struct AdjustmentBuilder {
  explicit AdjustmentBuilder(NetworkInput input) { a.input_ = std::move(input); }
  [[nodiscard]] AdjustmentResult build();

  Adjustment a;

  void gather_sightings();
  [[nodiscard]] bool is_aligned() const { return !a.input_.alignment.empty(); }
  void measure_alignment();
  [[nodiscard]] std::vector<Deficiency> lay_datum();
  void weigh_points();
  [[nodiscard]] Eigen::MatrixXd reduced_normal() const;
  [[nodiscard]] AdjustmentResult invert(const Eigen::MatrixXd& reduced);
  [[nodiscard]] Eigen::MatrixXd common_motion() const;
  void hold_datum();
  void hold_nothing();
};

void AdjustmentBuilder::gather_sightings() {
  const NetworkInput& input = a.input_;
  for (const NestObservation& o : input.observations) {
    assert(o.station < input.stations.size() && o.nest < input.nests.size());
    a.sightings_.push_back({o.station, o.nest, weight_of(o.covariance)});
  }
  auto point = static_cast<std::uint32_t>(input.nests.size());
  for (const DatumTouch& touch : input.datum_touches) {
    assert(touch.station < input.stations.size());
    a.sightings_.push_back({touch.station, point++, weight_of(touch.covariance)});
  }
  for (const AlignmentTouch& touch : input.alignment) {
    assert(touch.station < input.stations.size());
    a.sightings_.push_back({touch.station, point++, alignment_weight(touch, input.form)});
  }
  a.by_point_.resize(point);
  a.point_inverse_.assign(point, Mat3::Zero());
  for (std::uint32_t i = 0; i < a.sightings_.size(); ++i)
    a.by_point_[a.sightings_[i].point].push_back(i);
}

/// The size of what the alignment touches and the stations observe, to which rotations are scaled.
void AdjustmentBuilder::measure_alignment() {
  a.in_datum_.assign(a.point_count(), false);
  std::vector<Vec3> places;
  for (const AlignmentTouch& touch : a.input_.alignment) places.push_back(touch.place);
  const Vec3 sum = std::accumulate(places.begin(), places.end(), Vec3(Vec3::Zero()));
  a.centre_ = sum / static_cast<double>(places.size());
  for (std::size_t nest = 0; nest < a.input_.nests.size(); ++nest)
    if (!a.by_point_[nest].empty()) places.push_back(a.place(nest));
  a.scale_ = std::max(rms_distance(places, a.centre_), 1.0);
}

/// Chooses the datum points; returns every station when they do not hold a datum.
std::vector<Deficiency> AdjustmentBuilder::lay_datum() {
  const NetworkInput& input = a.input_;
  const std::size_t nests = input.nests.size();
  const bool all = input.datum_nests.empty() && input.datum_touches.empty();
  a.in_datum_.assign(a.point_count(), all);
  for (const std::uint32_t nest : input.datum_nests) a.in_datum_[nest] = true;
  for (std::size_t point = nests; point < a.point_count(); ++point) a.in_datum_[point] = true;

  std::vector<Vec3> datum;
  std::vector<std::uint32_t> datum_nests;
  for (std::uint32_t point = 0; point < a.point_count(); ++point) {
    if (a.by_point_[point].empty()) a.in_datum_[point] = false;
    if (!a.in_datum_[point]) continue;
    datum.push_back(a.place(point));
    if (point < nests) datum_nests.push_back(point);
  }
  const Deficiency held = tie_through(datum);
  if (held.degrees_of_freedom > 0) {
    std::vector<Deficiency> deficient(input.stations.size(), held);
    for (std::uint32_t station = 0; station < deficient.size(); ++station) {
      deficient[station].station = station;
      deficient[station].nests = datum_nests;
      deficient[station].against_datum = true;
    }
    return deficient;
  }
  const Vec3 sum = std::accumulate(datum.begin(), datum.end(), Vec3(Vec3::Zero()));
  a.centre_ = sum / static_cast<double>(datum.size());
  a.scale_ = rms_distance(datum, a.centre_);
  return {};
}

void AdjustmentBuilder::weigh_points() {
  for (std::size_t point = 0; point < a.point_count(); ++point) {
    if (a.by_point_[point].empty()) continue;
    if (point < a.first_certain()) {
      Mat3 precision = Mat3::Zero();
      for (const std::uint32_t i : a.by_point_[point]) precision += a.sightings_[i].weight;
      const Mat3 spread = precision.llt().solve(Mat3::Identity());
      a.point_inverse_[point] = 0.5 * (spread + spread.transpose());
    }
    for (const std::uint32_t i : a.by_point_[point]) {
      Adjustment::Sighting& s = a.sightings_[i];
      const Vec3 lever = a.place(point) - a.input_.stations[s.station];
      s.pull = rigid_shift(lever, a.scale_).transpose() * s.weight;
      s.pull_spread = s.pull * a.point_inverse_[point];
    }
  }
}

/// R = A - K P^-1 K^T: the normal equations with the points eliminated.
Eigen::MatrixXd AdjustmentBuilder::reduced_normal() const {
  const Eigen::Index size = first_row(a.input_.stations.size());
  Eigen::MatrixXd reduced = Eigen::MatrixXd::Zero(size, size);
  for (std::size_t point = 0; point < a.point_count(); ++point) {
    const std::vector<std::uint32_t>& seen = a.by_point_[point];
    // A point of one observation says nothing about stations; its share would be rounding only.
    if (seen.size() < 2 && point < a.first_certain()) continue;
    for (const std::uint32_t i : seen) {
      const Adjustment::Sighting& s = a.sightings_[i];
      const Vec3 lever = a.place(point) - a.input_.stations[s.station];
      const Eigen::Index row = first_row(s.station);
      reduced.block<6, 6>(row, row) += s.pull * rigid_shift(lever, a.scale_);
      for (const std::uint32_t j : seen) {
        const Adjustment::Sighting& other = a.sightings_[j];
        reduced.block<6, 6>(row, first_row(other.station)) -=
            s.pull_spread * other.pull.transpose();
      }
    }
  }
  return 0.5 * (reduced + reduced.transpose());
}

/// An orthonormal basis of the rigid motion of all stations together.
Eigen::MatrixXd AdjustmentBuilder::common_motion() const {
  const Eigen::Index size = first_row(a.input_.stations.size());
  Eigen::MatrixXd rigid(size, 6);
  for (std::size_t station = 0; station < a.input_.stations.size(); ++station)
    rigid.middleRows<6>(first_row(station)) = a.station_shift(station);
  const Eigen::HouseholderQR<Eigen::MatrixXd> qr(rigid);
  return qr.householderQ() * Eigen::MatrixXd::Identity(size, 6);
}

/// The inverse of R where an alignment holds all. Else a generalised inverse, since R's null space
/// is the rigid motion of all stations together: (R + alpha g g^T)^-1 with g an orthonormal basis
/// of it. What it says of that motion is arbitrary; the datum replaces it. `alpha` of the size of
/// R's entries keeps the condition. Returns what moves.
AdjustmentResult AdjustmentBuilder::invert(const Eigen::MatrixXd& reduced) {
  const Eigen::Index size = reduced.rows();
  if (a.input_.stations.size() == 1 && !is_aligned()) {  // nothing to be held against: R is zero
    a.inverse_ = Eigen::MatrixXd::Zero(size, size);
    return {};
  }
  Eigen::MatrixXd whole = reduced;
  if (!is_aligned()) {
    const Eigen::MatrixXd basis = common_motion();
    const double alpha = std::max(reduced.trace() / static_cast<double>(size), 1e-300);
    whole += alpha * basis * basis.transpose();
  }
  const Eigen::LLT<Eigen::MatrixXd> cholesky(whole);
  const bool factored = cholesky.info() == Eigen::Success;
  if (!factored || !(cholesky.rcond() > tolerance::kSurelyHeld)) {
    std::vector<Deficiency> deficient;
    if (a.input_.stations.size() > 1) deficient = find_deficiencies(a.input_);
    std::vector<Motion> free;
    if (is_aligned()) free = free_motions(a.input_.alignment);
    if (!deficient.empty()) return {std::nullopt, std::move(deficient), {}};
    if (!free.empty()) return {std::nullopt, {}, std::move(free)};
  }
  if (!factored) {
    std::vector<Deficiency> weak(a.input_.stations.size());
    for (std::uint32_t station = 0; station < weak.size(); ++station) {
      weak[station].station = station;
      weak[station].tie = Tie::too_weak;
    }
    return {std::nullopt, std::move(weak), {}};
  }
  a.inverse_ = cholesky.solve(Eigen::MatrixXd::Identity(size, size));
  a.inverse_ = 0.5 * (a.inverse_ + Eigen::MatrixXd(a.inverse_.transpose()));
  return {};
}

void AdjustmentBuilder::hold_datum() {
  a.datum_pull_ = Eigen::MatrixXd::Zero(a.inverse_.rows(), 6);
  Mat6 normal = Mat6::Zero();
  Mat6 spread = Mat6::Zero();
  for (std::size_t point = 0; point < a.point_count(); ++point) {
    if (!a.in_datum_[point]) continue;
    const Eigen::Matrix<double, 3, 6> shift = a.datum_shift(a.place(point));
    normal += shift.transpose() * shift;
    spread += propagate(shift.transpose(), a.point_inverse_[point]);
    for (const std::uint32_t i : a.by_point_[point]) {
      const Adjustment::Sighting& s = a.sightings_[i];
      a.datum_pull_.middleRows<6>(first_row(s.station)) -= s.pull_spread * shift;
    }
  }
  const Mat6 inverse = normal.llt().solve(Mat6::Identity());
  a.datum_inverse_ = 0.5 * (inverse + inverse.transpose());
  a.datum_answer_ = a.inverse_ * a.datum_pull_;
  const Mat6 middle = spread + a.datum_pull_.transpose() * a.datum_answer_;
  a.datum_covariance_ = propagate(a.datum_inverse_, middle);
}

/// With an alignment all covariances are those of the part's frame as they are.
void AdjustmentBuilder::hold_nothing() {
  a.datum_inverse_ = Mat6::Zero();
  a.datum_covariance_ = Mat6::Zero();
  a.datum_pull_ = Eigen::MatrixXd::Zero(a.inverse_.rows(), 6);
  a.datum_answer_ = a.datum_pull_;
}

AdjustmentResult AdjustmentBuilder::build() {
  gather_sightings();
  if (a.input_.stations.empty()) return {std::move(a), {}, {}};
  if (is_aligned()) {
    measure_alignment();
  } else {
    std::vector<Deficiency> loose = lay_datum();
    if (!loose.empty()) {
      // What moves against the other stations is told before what moves against the datum.
      std::vector<Deficiency> deficient = find_deficiencies(a.input_);
      return {std::nullopt, deficient.empty() ? std::move(loose) : std::move(deficient), {}};
    }
  }
  weigh_points();
  AdjustmentResult moving = invert(reduced_normal());
  if (!moving.deficient.empty() || !moving.free.empty()) return moving;
  is_aligned() ? hold_nothing() : hold_datum();
  return {std::move(a), {}, {}};
}

AdjustmentResult adjust(NetworkInput input) {
  return AdjustmentBuilder(std::move(input)).build();
}

}  // namespace standpoint
