#include "tests/page/figures.h"

#include <cmath>
#include <limits>
#include <stdexcept>

#include <fmt/format.h>

#include "geometry/logarithm.h"
#include "geometry/trigonometry.h"
#include "io/read/scene/polygon_defect.h"
#include "io/read/text/decimal_number.h"
#include "io/words/lengths.h"
#include "planner/network/adjustment.h"
#include "planner/network/chi_square.h"
#include "planner/rehearsal/draws.h"
#include "planner/stations/zone_polygon.h"

namespace standpoint::test {
namespace {

/// The same numbers on every machine: 64-bit mixing steps after S. Vigna's splitmix64
/// (prng.di.unimi.it), from memory.
class Numbers {
 public:
  explicit Numbers(std::uint64_t seed) : state_(seed) {}

  double between(double low, double high) {
    state_ += 0x9e3779b97f4a7c15U;
    std::uint64_t z = state_;
    z = (z ^ (z >> 30U)) * 0xbf58476d1ce4e5b9U;
    z = (z ^ (z >> 27U)) * 0x94d049bb133111ebU;
    z ^= z >> 31U;
    return low + (high - low) * (static_cast<double>(z >> 11U) * 0x1p-53);
  }

 private:
  std::uint64_t state_;
};

/// One after the other: the order in which a call's arguments are worked out is the compiler's.
Vec2 flat_place(Numbers& numbers, double most) {
  const double x = numbers.between(-most, most);
  const double y = numbers.between(-most, most);
  return {x, y};
}

std::string bits(double x) {
  return fmt::format("{:a}", x);
}

void add_functions(std::string& out) {
  Numbers numbers(1);
  for (int i = 0; i < 2000; ++i) {
    const double angle = numbers.between(-20, 20), size = numbers.between(1e-6, 50);
    const double x = numbers.between(-1, 1);
    out += fmt::format("functions {} {} {} {} {} {} {} {}\n", i, bits(sine(angle)),
                       bits(cosine(angle)), bits(tangent(angle)), bits(arc_tangent(x, angle)),
                       bits(arc_sine(x)), bits(logarithm(size)), bits(exponential(angle)));
  }
}

void add_draws(std::string& out) {
  for (std::uint64_t trial = 0; trial < 300; ++trial) {
    TrialDraws draws(42, 1, trial);
    const Vec3 direction = draws.direction();
    out += fmt::format("draws {} {} {} {} {}\n", trial, bits(draws.normal()), bits(direction.x()),
                       bits(direction.y()), bits(direction.z()));
  }
  for (const double freedoms : {1.0, 2.0, 3.0, 17.0, 400.0, 12345.0}) {
    for (const double p : {0.025, 0.5, 0.95, 0.999})
      out +=
          fmt::format("quantile {} {} {}\n", freedoms, p, bits(chi_square_quantile(freedoms, p)));
  }
}

void add_texts(std::string& out) {
  for (const char* text :
       {"0.1", "-12.", ".5e-7", "+1234567890123456789", "4.35", "2.5e-308", "1,5"}) {
    const auto number = decimal_number(text);
    out += fmt::format("number {} {}\n", text, number ? bits(*number) : "none");
  }
  Numbers numbers(2);
  Scene scene;
  for (int i = 0; i < 2000; ++i) {
    scene.mm_per_unit = i % 3 == 0 ? 1000 : i % 3 == 1 ? 25.4 : 1;
    const double mm = i % 2 == 0 ? numbers.between(-1e5, 1e5) : 0.0005 * i;
    out += fmt::format("length {} {} {}\n", length_text(scene, mm, 0.001),
                       length_text(scene, mm, 1), mm);
  }
}

/// Points on an edge of a large triangle, rounded, and their neighbours among the doubles: which
/// side they are on is told by exact predicates alone.
void add_polygons(std::string& out) {
  Numbers numbers(3);
  for (int i = 0; i < 4000; ++i) {
    const auto place = [&] { return flat_place(numbers, 3e4); };
    const Vec2 a = place(), b = place(), c = place();
    Vec2 point = a + numbers.between(0, 1) * (b - a);
    for (int step = i % 5 - 2; step != 0; step -= step > 0 ? 1 : -1)
      point.x() = std::nextafter(point.x(), step * std::numeric_limits<double>::infinity());
    const auto defect = find_polygon_defect({a, b, c, point});
    out += fmt::format("polygon {} {} {} {} {} {} {} {} {} {}\n", i, bits(a.x()), bits(a.y()),
                       bits(b.x()), bits(b.y()), bits(c.x()), bits(c.y()), bits(point.x()),
                       bits(point.y()),
                       fmt::format("{} {}", is_in_polygon({a, b, c}, point) ? "in" : "out",
                                   defect ? static_cast<int>(defect->defect) : -1));
  }
}

/// Some fifty stations round a hall: products of 300 rows, which Eigen takes in blocks.
void add_network(std::string& out) {
  Numbers numbers(4);
  const InstrumentError error{2, {0.015, 0.006e-3}, {0.010, 0.0005e-3}};
  NetworkInput input;
  for (int i = 0; i < 52; ++i) {
    const Vec2 place = flat_place(numbers, 9e3);
    input.stations.emplace_back(place.x(), place.y(), 1500);
  }
  for (int i = 0; i < 60; ++i) {
    const Vec2 place = flat_place(numbers, 7e3);
    input.nests.emplace_back(place.x(), place.y(), numbers.between(0, 3000));
  }
  for (std::uint32_t s = 0; s < input.stations.size(); ++s) {
    for (std::uint32_t n = 0; n < input.nests.size(); ++n) {
      if (n >= 4 && numbers.between(0, 1) > 0.3) continue;
      input.observations.push_back(
          {s, n, observation_covariance(error, input.stations[s], input.nests[n])});
    }
  }
  const AdjustmentResult result = adjust(input);
  if (!result.adjustment) throw std::runtime_error("the network does not hold");
  const Network network = result.adjustment->covariances();
  for (const Mat6& pose : network.pose_covariance) {
    out += "pose";
    for (Eigen::Index i = 0; i < 36; ++i) out += " " + bits(pose(i % 6, i / 6));
    out += '\n';
  }
  for (const Mat3& nest : network.nest_covariance)
    out += fmt::format("nest {} {} {}\n", bits(nest(0, 0)), bits(nest(1, 2)), bits(nest(2, 2)));
}

}  // namespace

std::string figures() {
  std::string out;
  add_functions(out);
  add_draws(out);
  add_texts(out);
  add_polygons(out);
  add_network(out);
  return out;
}

}  // namespace standpoint::test
