#include "planner/setup/part_fit.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <limits>

#include "planner/model/tolerances.h"
#include "planner/network/chi_square.h"
#include "planner/stations/some_off_line.h"
#include "planner/stations/ties.h"

namespace standpoint {
namespace {

/// What chance leaves so rarely is looked at from other starts.
constexpr double kOnceInAMillion = 1 - 1e-6;
/// Readings so far off their places count as one standard uncertainty, mm.
constexpr double kStraysAlike = 10;

struct Laid {
  std::vector<Vec3> read, anchor;
};

Laid laid(const PartFitInput& input, bool anchored_only) {
  Laid all;
  for (std::size_t i = 0; i < input.rows.size(); ++i) {
    if (input.left_out[i] || (anchored_only && !input.rows[i].is_anchored)) continue;
    all.read.push_back(input.rows[i].read);
    all.anchor.push_back(input.rows[i].anchor);
  }
  return all;
}

/// The closed form: the readings laid on their places, all with the same weight. Where these do not
/// hold the rotation it is one of the best.
Pose laid_on(const Laid& all) {
  const auto count = static_cast<Eigen::Index>(all.read.size());
  Eigen::Matrix3Xd from(3, count), to(3, count);
  for (Eigen::Index i = 0; i < count; ++i) {
    from.col(i) = all.read[static_cast<std::size_t>(i)];
    to.col(i) = all.anchor[static_cast<std::size_t>(i)];
  }
  const Vec3 from_middle = from.rowwise().mean(), to_middle = to.rowwise().mean();
  from.colwise() -= from_middle;
  to.colwise() -= to_middle;
  Pose pose = Pose::Identity();
  if (count > 1 && !from.isZero(0))
    pose.linear() = Eigen::umeyama(from, to, false).topLeftCorner<3, 3>();
  pose.translation() = to_middle - pose.linear() * from_middle;
  return pose;
}

/// Whether places that readings have of their own hold the pose.
bool holds_pose(const Laid& anchored) {
  return anchored.read.size() >= 3 && some_off_line(anchored.anchor, 3) == SomeOffLine::yes;
}

/// The 24 turns of a cube, no two less than a quarter turn apart; and each after an eighth of a
/// turn about z and another about x, which lies between them.
std::vector<Mat3> turns_to_try() {
  std::vector<Mat3> turns;
  const std::array<std::array<int, 3>, 6> orders{
      {{0, 1, 2}, {1, 2, 0}, {2, 0, 1}, {0, 2, 1}, {2, 1, 0}, {1, 0, 2}}};
  for (const auto& order : orders) {
    for (int signs = 0; signs < 8; ++signs) {
      Mat3 turn = Mat3::Zero();
      for (int row = 0; row < 3; ++row)
        turn(row, order[static_cast<std::size_t>(row)]) = (signs >> row & 1) != 0 ? -1 : 1;
      if (turn.determinant() > 0) turns.push_back(turn);
    }
  }
  Mat3 askew;
  const double h = std::sqrt(0.5);
  askew << h, -h, 0, 0.5, 0.5, -h, 0.5, 0.5, h;
  const std::size_t even = turns.size();
  for (std::size_t i = 0; i < even; ++i) turns.emplace_back(turns[i] * askew);
  return turns;
}

/// Sum of squares of how far the readings are off their places, or beyond their features.
double strays(const PartFitInput& input, const Pose& pose) {
  double sum = 0;
  for (std::size_t i = 0; i < input.rows.size(); ++i) {
    const HeldRow& row = input.rows[i];
    if (input.left_out[i]) continue;
    const double off = (pose * row.read - row.anchor).norm();
    const double beyond = row.is_anchored ? off : std::max(0.0, off - row.extent);
    sum += beyond * beyond / (kStraysAlike * kStraysAlike);
  }
  return sum;
}

class BestFit {
 public:
  explicit BestFit(const PartFitInput& input) : input_(input) {}

  void take(const Pose& start) { take(fit_to_part(input_, start)); }
  void take(PartFit fit) {
    const double sum = fit.chi_square + strays(input_, fit.world_from_instrument);
    if (!(sum < least_)) return;
    least_ = sum;
    best_ = std::move(fit);
  }
  [[nodiscard]] bool is_sound() const {
    if (!(least_ < std::numeric_limits<double>::infinity())) return false;
    const int spare = best_.observations - 6;
    return spare > 0 && least_ <= chi_square_quantile(spare, kOnceInAMillion);
  }
  [[nodiscard]] PartFit take_best() { return std::move(best_); }

 private:
  const PartFitInput& input_;
  PartFit best_;
  double least_ = std::numeric_limits<double>::infinity();
};

}  // namespace

PartFit fit_from_closed_form(const PartFitInput& input) {
  const Laid anchored = laid(input, true);
  return fit_to_part(input, laid_on(holds_pose(anchored) ? anchored : laid(input, false)));
}

PartFit fit_to_part(const PartFitInput& input) {
  BestFit best(input);
  best.take(fit_from_closed_form(input));
  if (best.is_sound() || holds_pose(laid(input, true))) return best.take_best();
  const Pose start = laid_on(laid(input, false));
  Vec3 middle = Vec3::Zero();  // of the readings, where the start has them
  double count = 0;
  for (std::size_t i = 0; i < input.rows.size(); ++i) {
    if (input.left_out[i]) continue;
    middle += start * input.rows[i].read;
    count += 1;
  }
  middle /= count;
  for (const Mat3& turn : turns_to_try()) {
    Pose turned = Pose::Identity();
    turned.linear() = turn;
    turned.translation() = middle - turn * middle;
    best.take(turned * start);
  }
  return best.take_best();
}

}  // namespace standpoint
