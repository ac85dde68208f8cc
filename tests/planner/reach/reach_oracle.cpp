#include "reach_oracle.h"

#include <CGAL/Simple_cartesian.h>
#include <CGAL/squared_distance_3.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <numbers>

namespace standpoint::test {
namespace {

using Kernel = CGAL::Simple_cartesian<double>;
constexpr double kDegree = std::numbers::pi / 180;

Kernel::Point_3 to_cgal(const Vec3& v) {
  return {v.x(), v.y(), v.z()};
}

double angle(const Vec3& a, const Vec3& b) {
  return std::acos(std::clamp(a.dot(b) / (a.norm() * b.norm()), -1.0, 1.0));
}

/// By how much a number lies inside a closed interval.
double inside(const Interval& interval, double x) {
  return std::min(x - interval.low, interval.high - x);
}

double range_score(const Instrument& instrument, const Vec3& station, const Vec3& point) {
  return inside(instrument.range, (point - station).norm());
}

double elevation_score(const Instrument& instrument, const Vec3& station, const Vec3& point) {
  const Vec3 d = point - station;
  return inside(instrument.elevation_rad, std::asin(d.z() / d.norm()));
}

}  // namespace

struct Oracle::Triangle {
  Kernel::Triangle_3 shape;
  Vec3 middle;
  double size;  ///< no point of it is farther from `middle`
  std::size_t body;
};

/// An axis from a to b with the radius changing linearly from ra to rb.
struct Oracle::Cone {
  Vec3 a, b;
  double ra, rb;

  [[nodiscard]] double margin_at(const Kernel::Triangle_3& triangle, double f) const {
    const Vec3 p = a + f * (b - a);
    return std::sqrt(CGAL::squared_distance(to_cgal(p), triangle)) - (ra + f * (rb - ra));
  }
  /// The fraction of the axis at which one triangle's margin is least; where nothing below
  /// `enough` can be found, some fraction.
  [[nodiscard]] double fraction_of_least(const Kernel::Triangle_3& triangle,
                                         double enough = kInfinite) const {
    const double golden = (std::sqrt(5.0) - 1) / 2;
    // The margin changes by no more than this along the whole axis.
    const double change = (b - a).norm() + std::abs(rb - ra);
    double low = 0, high = 1;
    double x = high - golden * (high - low), y = low + golden * (high - low);
    double at_x = margin_at(triangle, x), at_y = margin_at(triangle, y);
    for (int i = 0; i < 64 && std::min(at_x, at_y) - change * (high - low) < enough; ++i) {
      if (at_x < at_y) {
        high = y;
        y = x;
        at_y = at_x;
        at_x = margin_at(triangle, x = high - golden * (high - low));
      } else {
        low = x;
        x = y;
        at_x = at_y;
        at_y = margin_at(triangle, y = low + golden * (high - low));
      }
    }
    double best = (low + high) / 2;
    for (const double end : {0.0, 1.0}) {
      if (margin_at(triangle, end) < margin_at(triangle, best)) best = end;
    }
    return best;
  }
  [[nodiscard]] double least(const Kernel::Triangle_3& triangle, double enough) const {
    if (a == b) return margin_at(triangle, 0);
    return margin_at(triangle, fraction_of_least(triangle, enough));
  }
  /// No margin to the triangle is below this.
  [[nodiscard]] double bound(const Triangle& triangle) const {
    const Vec3 e = b - a;
    const double e2 = e.squaredNorm();
    const double f = e2 > 0 ? std::clamp((triangle.middle - a).dot(e) / e2, 0.0, 1.0) : 0;
    return (triangle.middle - (a + f * e)).norm() - triangle.size - std::max(ra, rb);
  }
};

double OracleScores::least() const {
  return std::min({fit, range, elevation, acceptance, beam, shank, head});
}

Oracle::Oracle(const MadeScene& scene) : scene_(scene) {
  for (std::size_t body = 0; body < scene.bodies.size(); ++body) {
    const Mesh& mesh = *scene.meshes[body];
    for (const auto& t : mesh.triangles) {
      const Vec3 &a = mesh.vertices[t[0]], &b = mesh.vertices[t[1]], &c = mesh.vertices[t[2]];
      const Vec3 middle = (a + b + c) / 3;
      const double size = std::max({(a - middle).norm(), (b - middle).norm(), (c - middle).norm()});
      triangles_.push_back({{to_cgal(a), to_cgal(b), to_cgal(c)}, middle, size, body});
    }
  }
}

Oracle::~Oracle() = default;

/// Exact where it is at least `stop_below` and below `enough`; else some margin on that side.
double Oracle::least_margin(const Cone& cone, double stop_below, double enough) const {
  double best = kInfinite;
  const auto is_decided_by = [&](std::size_t i) {
    const double wanted = std::min(best, enough);
    if (cone.bound(triangles_[i]) >= wanted) return false;
    best = std::min(best, cone.least(triangles_[i].shape, wanted));
    if (best >= stop_below) return false;
    last_blocker_ = i;
    return true;
  };
  if (last_blocker_ < triangles_.size() && is_decided_by(last_blocker_)) return best;
  for (std::size_t i = 0; i < triangles_.size(); ++i) {
    if (is_decided_by(i)) return best;
  }
  return best;
}

Oracle::Cone Oracle::beam(const Vec3& station, const Vec3& end) const {
  const Instrument& made = scene_.instrument;
  const double growth = made.beam_growth_rad * (end - station).norm();
  return {station, end, made.beam_diameter / 2, (made.beam_diameter + growth) / 2};
}

double Oracle::beam_margin(const FullTarget& target, const OraclePlace& place,
                           const Vec3& station) const {
  const Vec3 u = (station - place.centre).normalized();
  return least_margin(beam(station, place.centre + target.radius * u));
}

OracleScores Oracle::full_target(const FullTarget& target, const OraclePlace& place,
                                 const Vec3& station) const {
  const Rules& rules = scene_.rules;
  const Vec3 u = (station - place.centre).normalized();
  const Cone ball{place.centre, place.centre, target.radius, target.radius};
  return {place.is_nest ? kInfinite : least_margin(ball) + rules.fit_tolerance,
          range_score(scene_.instrument, station, place.centre),
          elevation_score(scene_.instrument, station, place.centre),
          angle(u, -place.normal) - (target.aperture_rad + place.seat_rad - target.acceptance_rad),
          beam_margin(target, place, station) - rules.min_margin,
          kInfinite,
          kInfinite};
}

std::optional<OracleBreak> Oracle::first_break(const FullTarget& target, const OraclePlace& place,
                                               const Vec3& station) const {
  const Vec3 u = (station - place.centre).normalized();
  const Cone cone = beam(station, place.centre + target.radius * u);
  const double length = (cone.b - cone.a).norm();
  const double allowed = scene_.rules.min_margin;
  std::vector<std::pair<double, std::size_t>> breaks;
  for (const Triangle& triangle : triangles_) {
    if (cone.bound(triangle) >= allowed) continue;
    double broken = cone.fraction_of_least(triangle.shape), whole = 0;
    if (cone.margin_at(triangle.shape, broken) >= allowed) continue;
    if (cone.margin_at(triangle.shape, 0) < allowed) broken = 0;
    for (int i = 0; i < 100; ++i) {
      const double middle = (whole + broken) / 2;
      (cone.margin_at(triangle.shape, middle) < allowed ? broken : whole) = middle;
    }
    breaks.emplace_back(broken * length, triangle.body);
  }
  if (breaks.empty()) return std::nullopt;
  OracleBreak first{std::min_element(breaks.begin(), breaks.end())->first, {}};
  for (const auto& [distance, body] : breaks) {
    if (distance < first.distance + 1e-4) first.bodies.push_back(body);
  }
  return first;
}

double Oracle::beam_margin(const OffsetStylus& stylus, const OraclePlace& place,
                           const Vec3& station, const Vec3& s, double stop_below) const {
  if (const auto* mirror = std::get_if<MirrorStylus>(&stylus)) {
    const Vec3 u = (station - place.centre).normalized();
    return least_margin(beam(station, place.centre + mirror->length * u), stop_below);
  }
  const auto& rod = std::get<TwoBallStylus>(stylus);
  double least = kInfinite;
  for (const double distance : rod.ball_distances) {
    const Vec3 ball = place.centre + distance * s;
    const Vec3 u = (station - ball).normalized();
    const Cone cone = beam(station, ball + rod.ball_radius * u);
    least = std::min(least, least_margin(cone, stop_below));
    if (least < stop_below) break;
  }
  return least;
}

/// Range, elevation and the angle between stylus and beam.
OracleScores Oracle::stylus_seen(const OffsetStylus& stylus, const OraclePlace& place,
                                 const Vec3& station, const Vec3& s) const {
  OracleScores scores;
  const Vec3& c = place.centre;
  const auto see = [&](const Vec3& point) {
    scores.range = std::min(scores.range, range_score(scene_.instrument, station, point));
    scores.elevation =
        std::min(scores.elevation, elevation_score(scene_.instrument, station, point));
  };
  if (const auto* mirror = std::get_if<MirrorStylus>(&stylus)) {
    see(c);
    scores.acceptance = mirror->swing_rad - angle(s, station - c);
    return scores;
  }
  const auto& rod = std::get<TwoBallStylus>(stylus);
  for (const double distance : rod.ball_distances) {
    const Vec3 ball = c + distance * s;
    see(ball);
    scores.acceptance = std::min(
        scores.acceptance, rod.acceptance_rad - std::abs(angle(s, station - ball) - 90 * kDegree));
  }
  return scores;
}

OracleScores Oracle::stylus(const OffsetStylus& stylus, const OraclePlace& place,
                            const Vec3& station, const Vec3& s, bool is_quick) const {
  const auto* mirror = std::get_if<MirrorStylus>(&stylus);
  const auto* rod = std::get_if<TwoBallStylus>(&stylus);
  const Shank& shank = mirror != nullptr ? mirror->shank : rod->shank;
  OracleScores scores = stylus_seen(stylus, place, station, s);
  const auto is_lost = [&] { return is_quick && scores.least() < 0; };
  if (is_lost()) return scores;

  const Vec3& c = place.centre;
  const double allowed = -scene_.rules.fit_tolerance;
  const auto clearance = [&](const Cone& cone) {
    return is_quick ? least_margin(cone, allowed, allowed) - allowed : least_margin(cone) - allowed;
  };
  std::vector<double> heads{mirror != nullptr ? mirror->length : 0};
  if (rod != nullptr) heads.assign(rod->ball_distances.begin(), rod->ball_distances.end());
  const double head_radius = mirror != nullptr ? mirror->head_radius : rod->ball_radius;
  for (const double t : heads) {
    const Vec3 head = c + t * s;
    scores.head = std::min(scores.head, clearance({head, head, head_radius, head_radius}));
  }
  if (is_lost()) return scores;
  const Vec3 end = c + heads.back() * s;
  if (shank.radius > shank.tip_radius) {
    const Vec3 full = c + shank.taper * s;
    scores.shank = std::min(clearance({c, full, shank.tip_radius, shank.radius}),
                            clearance({full, end, shank.radius, shank.radius}));
  } else {
    scores.shank = clearance({c + shank.tip_radius * s, end, shank.radius, shank.radius});
  }
  if (is_lost()) return scores;
  if (!place.is_nest) scores.fit = clearance({c, c, shank.tip_radius, shank.tip_radius});
  if (is_lost()) return scores;
  const double least = scene_.rules.min_margin;
  scores.beam = beam_margin(stylus, place, station, s, is_quick ? least : -kInfinite) - least;
  return scores;
}

/// Directions about `g`, on a grid of 0.2 degrees, asked when first needed.
class Oracle::Grid {
 public:
  Grid(const Vec3& g, const std::function<bool(const Vec3&)>& is_feasible)
      : g_(g), is_feasible_(is_feasible) {
    x_ = g.cross(std::abs(g.z()) < 0.7 ? Vec3::UnitZ() : Vec3::UnitX()).normalized();
    y_ = g.cross(x_);
  }

  /// Whether some disc of 2 degrees that holds `g` is feasible all over.
  [[nodiscard]] bool holds_a_disc() {
    for (int i = -kDisc; i <= kDisc; ++i) {
      for (int j = -kDisc; j <= kDisc; ++j) {
        if (i * i + j * j <= kDisc * kDisc && is_disc_about(i, j)) return true;
      }
    }
    return false;
  }

 private:
  static constexpr int kDisc = 5;  // steps: 1 degree; half a step beyond is asked too
  static constexpr int kReach = 2 * kDisc + 1;
  static constexpr int kSide = 2 * kReach + 1;
  enum class Known { nothing, yes, no };

  bool is_disc_about(int ci, int cj) {
    for (int i = -kDisc - 1; i <= kDisc + 1; ++i) {
      for (int j = -kDisc - 1; j <= kDisc + 1; ++j) {
        if (i * i + j * j <= (kDisc + 0.5) * (kDisc + 0.5) && !is_feasible_at(ci + i, cj + j)) {
          return false;
        }
      }
    }
    return true;
  }
  bool is_feasible_at(int i, int j) {
    Known& answer = known_[static_cast<std::size_t>((i + kReach) * kSide + j + kReach)];
    if (answer == Known::nothing) {
      const Vec3 s = (g_ + std::tan(0.2 * kDegree) * (i * x_ + j * y_)).normalized();
      answer = is_feasible_(s) ? Known::yes : Known::no;
    }
    return answer == Known::yes;
  }

  Vec3 g_, x_, y_;
  const std::function<bool(const Vec3&)>& is_feasible_;
  std::vector<Known> known_ = std::vector<Known>(kSide * kSide, Known::nothing);
};

bool Oracle::holds_a_disc(const OffsetStylus& stylus, const OraclePlace& place,
                          const Vec3& station) const {
  const auto* mirror = std::get_if<MirrorStylus>(&stylus);
  const double tip = mirror != nullptr ? mirror->shank.tip_radius
                                       : std::get<TwoBallStylus>(stylus).shank.tip_radius;
  const double least = scene_.rules.min_margin;
  // First what does not depend on the direction.
  if (!place.is_nest &&
      least_margin({place.centre, place.centre, tip, tip}) < -scene_.rules.fit_tolerance) {
    return false;
  }
  if (mirror != nullptr && beam_margin(stylus, place, station, Vec3::UnitX(), least) < least) {
    return false;
  }
  const std::function<bool(const Vec3&)> is_feasible = [&](const Vec3& s) {
    return this->stylus(stylus, place, station, s, true).least() >= 0;
  };
  // A spiral of directions (after the golden ratio) so dense that every disc of 2 degrees holds
  // one; about each that is feasible, a grid of 0.2 degrees.
  constexpr int kSpiral = 40000;
  for (int k = 0; k < kSpiral; ++k) {
    const double z = 1 - (2 * k + 1.0) / kSpiral;
    const double turn = k * std::numbers::pi * (3 - std::sqrt(5.0));
    const double across = std::sqrt(1 - z * z);
    const Vec3 g(across * std::cos(turn), across * std::sin(turn), z);
    if (is_feasible(g) && Grid(g, is_feasible).holds_a_disc()) return true;
  }
  return false;
}

}  // namespace standpoint::test
