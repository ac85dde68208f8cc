#include "io/use/start_layout.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "geometry/trigonometry.h"
#include "io/words/tolerances.h"
#include "io/words/units.h"
#include "planner/part/rest.h"

namespace standpoint {
namespace {

// Common practice, as far as there is one: a crew puts the instrument up a stride or two from the
// part, on a stand at the height of the chest, and once more at the height of the head.
constexpr double kNearest = 1000;                    // from the part's side to the aisle
constexpr double kNarrowest = 1500, kWidest = 4000;  // of an aisle
constexpr double kChest = 1150, kHead = 1750;
constexpr double kTall = 1500;     // of a part that hides its top from a stand
constexpr double kOverTall = 450;  // how far over such a part a platform lifts the instrument
constexpr double kHighest = 4000;  // of a platform
constexpr double kPostHeight = 1900, kFloorNest = 55;
constexpr double kSeatDeg = 45;
constexpr std::size_t kMostPlaces = 150;  // so that a plan takes seconds, not minutes

/// The next of 1, 1.5, 2, 2.5, 3, 4, 5, 7.5 times a power of ten: a figure that people read.
double round_up(double length) {
  double power = 1;
  while (power * 10 <= length) power *= 10;
  for (const double step : {1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 7.5})
    if (step * power >= length) return step * power;
  return 10 * power;
}

double to_fifty(double length) {
  return 50 * std::ceil(length / 50);
}

PlacedBox box_of(const Mesh& part, const Mat3& turn) {
  PlacedBox box;
  box.low = box.high = turn * part.vertices.front();
  for (const Vec3& vertex : part.vertices) {
    const Vec3 at = turn * vertex;
    box.low = box.low.cwiseMin(at);
    box.high = box.high.cwiseMax(at);
  }
  return box;
}

/// With no more digits than the direction of a face has.
double degrees_of(double rad) {
  constexpr double kDigits = 1e9;
  return std::round(rad * (180 / std::numbers::pi) * kDigits) / kDigits;
}

/// About the axis x, y or z, right-handed; quarter turns exact, as the reader of a pose has them.
Mat3 turn_about(Eigen::Index axis, double deg) {
  double cos = cosine(rad_from_deg(deg)), sin = sine(rad_from_deg(deg));
  if (std::fmod(deg, 90) == 0) {
    cos = std::round(cos);
    sin = std::round(sin);
  }
  const Eigen::Index next = (axis + 1) % 3, after = (axis + 2) % 3;
  Mat3 turn = Mat3::Identity();
  turn(next, next) = turn(after, after) = cos;
  turn(next, after) = -sin;
  turn(after, next) = sin;
  return turn;
}

/// About x, then about y, so that `down` points to the floor. Exact zeros stay: quarter turns come
/// out as such.
Vec3 turning_down(const Vec3& down) {
  const Vec3 up = -down;
  const double about_x = arc_tangent(up.y(), up.z());
  const double height = hypotenuse(up.y(), up.z());
  const double about_y = -arc_tangent(up.x(), height);
  return {degrees_of(about_x), degrees_of(about_y), 0};
}

std::size_t grid_places(const Rectangle& aisle, double spacing) {
  const Vec2 size = aisle.high - aisle.low;
  return static_cast<std::size_t>((std::floor(size.x() / spacing) + 1) *
                                  (std::floor(size.y() / spacing) + 1));
}

Nest site(std::string name, const Vec3& at) {
  Nest nest;
  nest.name = std::move(name);
  nest.at = at;
  nest.normal = Vec3::UnitZ();
  nest.seat_rad = rad_from_deg(kSeatDeg);
  return nest;
}

}  // namespace

Mat3 turn_of(const Footing& footing) {
  return turn_about(1, footing.rotate_xyz_deg.y()) * turn_about(0, footing.rotate_xyz_deg.x());
}

Footing stand_on_floor(const Mesh& part) {
  Footing footing;
  const std::vector<Rest> ways = ways_to_stand(part);
  const auto own = std::find_if(ways.begin(), ways.end(),
                                [](const Rest& way) { return way.down == -Vec3::UnitZ(); });
  if (ways.empty()) {
    footing.why = Footing::Why::nothing_flat;
  } else if (own != ways.end() && own->area >= tolerance::kOwnUpShare * ways.front().area) {
    footing.flat_area = own->area;
  } else {
    footing.why = Footing::Why::largest_flat;
    footing.flat_area = ways.front().area;
    footing.rotate_xyz_deg = turning_down(ways.front().down);
  }
  const Mat3 turn = turn_of(footing);
  footing.box = box_of(part, turn);
  const Vec3 middle = (footing.box.low + footing.box.high) / 2;
  footing.translate = {-middle.x(), -middle.y(), -footing.box.low.z()};
  footing.box.low += footing.translate;
  footing.box.high += footing.translate;
  return footing;
}

std::size_t count_places(const Layout& layout) {
  std::size_t places = 0;
  for (const Rectangle& aisle : layout.aisles) places += grid_places(aisle, layout.spacing);
  return places * layout.heights.size();
}

Layout lay_out(const PlacedBox& part, const Instrument& instrument) {
  Layout layout;
  const Vec3 size = part.high - part.low;
  const double gap = std::max(kNearest, to_fifty(1.5 * instrument.range.low));
  const double width = std::clamp(round_up(std::max(size.x(), size.y()) / 2), kNarrowest, kWidest);
  const double x = to_fifty(size.x() / 2 + gap), y = to_fifty(size.y() / 2 + gap);
  layout.aisles = {{"south aisle", {-x - width, -y - width}, {x + width, -y}},
                   {"north aisle", {-x - width, y}, {x + width, y + width}},
                   {"west aisle", {-x - width, -y}, {-x, y}},
                   {"east aisle", {x, -y}, {x + width, y}}};
  layout.heights = {kChest, kHead};
  if (size.z() > kTall)
    layout.heights.push_back(std::min(to_fifty(size.z() + kOverTall), kHighest));
  layout.spacing = kNarrowest / 3;
  while (count_places(layout) > kMostPlaces) layout.spacing = round_up(layout.spacing * 1.01);
  // Beside the part but out of the crew's way; on posts beyond the aisles, so that no beam of a
  // station in one aisle to a nest of the next has to pass the part.
  const double before = gap / 2, beyond = width + 500;
  const double nest_x = size.x() / 2 + before, nest_y = size.y() / 2 + before;
  layout.nest_sites = {site("floor-south", {0, -nest_y, kFloorNest}),
                       site("floor-east", {nest_x, 0, kFloorNest}),
                       site("floor-north", {0, nest_y, kFloorNest}),
                       site("floor-west", {-nest_x, 0, kFloorNest}),
                       site("post-southwest", {-x - beyond, -y - beyond, kPostHeight}),
                       site("post-southeast", {x + beyond, -y - beyond, kPostHeight}),
                       site("post-northeast", {x + beyond, y + beyond, kPostHeight}),
                       site("post-northwest", {-x - beyond, y + beyond, kPostHeight})};
  layout.floor_size = {2 * (x + width + 1000), 2 * (y + width + 1000)};
  return layout;
}

}  // namespace standpoint
