#include "fuselage.h"
#include "geometry/vec.h"
#include "tests/draw.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace standpoint::bench {
namespace {

constexpr double kLength = 20000;
constexpr double kRadius = 2000;
constexpr double kTargetHeight = 20;
constexpr std::size_t kBoxes = 200;
constexpr double kTwoPi = 2 * std::numbers::pi;

using test::Draw;

Vec3 skin(double along, double turn) {
  const double x = along * kLength;
  const double bump = 12 * std::sin(x / 90) * std::sin(23 * turn) + 5 * std::sin(x / 31 + 7 * turn);
  const double r = kRadius + bump;
  return {x - kLength / 2, r * std::cos(turn), r * std::sin(turn)};
}

Mesh make_skin(std::size_t triangles) {
  // Cells about square: the girth is 2 pi kRadius to a length of kLength.
  const double cells = static_cast<double>(triangles) / 2;
  const auto around = static_cast<std::uint32_t>(std::sqrt(cells * kTwoPi * kRadius / kLength));
  const auto along = static_cast<std::uint32_t>(cells / around);
  Mesh mesh;
  mesh.vertices.reserve(static_cast<std::size_t>(along + 1) * around);
  mesh.triangles.reserve(2 * static_cast<std::size_t>(along) * around);
  for (std::uint32_t i = 0; i <= along; ++i) {
    for (std::uint32_t j = 0; j < around; ++j) {
      mesh.vertices.push_back(skin(static_cast<double>(i) / along, kTwoPi * j / around));
    }
  }
  for (std::uint32_t i = 0; i < along; ++i) {
    for (std::uint32_t j = 0; j < around; ++j) {
      const std::uint32_t k = (j + 1) % around;
      const std::uint32_t a = i * around + j, b = i * around + k;
      mesh.triangles.push_back({a, b, a + around});
      mesh.triangles.push_back({b, b + around, a + around});
    }
  }
  return mesh;
}

void add_box(Mesh& mesh, const Vec3& middle, const Vec3& half, double turn) {
  const auto first = static_cast<std::uint32_t>(mesh.vertices.size());
  const Eigen::AngleAxisd rotation(turn, Vec3::UnitZ());
  for (int i = 0; i < 8; ++i) {
    const Vec3 corner((i & 1) ? half.x() : -half.x(), (i & 2) ? half.y() : -half.y(),
                      (i & 4) ? half.z() : -half.z());
    mesh.vertices.push_back(middle + rotation * corner);
  }
  constexpr std::uint32_t kFaces[6][4] = {{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4},
                                          {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}};
  for (const auto& f : kFaces) {
    mesh.triangles.push_back({first + f[0], first + f[1], first + f[2]});
    mesh.triangles.push_back({first + f[0], first + f[2], first + f[3]});
  }
}

RoundCone beam_to(const Vec3& station, const Vec3& target) {
  const double length = (target - station).norm();
  return {station, target, 3, 3 + 0.2e-3 * length / 2};
}

Vec3 target_at(double along, double turn) {
  const SkinPoint point = skin_point(along, turn);
  return point.at + kTargetHeight * point.normal;
}

}  // namespace

SkinPoint skin_point(double along, double turn) {
  constexpr double kStep = 1e-5;
  const Vec3 d_along = skin(along + kStep, turn) - skin(along - kStep, turn);
  const Vec3 d_turn = skin(along, turn + kStep) - skin(along, turn - kStep);
  return {skin(along, turn), d_turn.cross(d_along).normalized()};
}

std::vector<Mesh> make_fuselage(std::size_t triangles) {
  std::vector<Mesh> bodies{make_skin(triangles - 12 * kBoxes), Mesh()};
  Draw draw(20);
  for (std::size_t i = 0; i < kBoxes; ++i) {
    const double turn = draw.between(0, kTwoPi);
    const double radius = kRadius + draw.between(300, 5000);
    const Vec3 middle(draw.between(-kLength, kLength) * 0.6, radius * std::cos(turn),
                      radius * std::sin(turn));
    const double x = draw.between(20, 150), y = draw.between(20, 150), z = draw.between(20, 150);
    add_box(bodies[1], middle, {x, y, z}, draw.between(0, kTwoPi));
  }
  return bodies;
}

Mesh make_rim_wires(const std::vector<RoundCone>& beams, std::uint64_t seed) {
  Draw draw(seed);
  Mesh mesh;
  for (const RoundCone& beam : beams) {
    // Across the beam, beside its axis by its radius there, more or less the wire's own thickness.
    const double f = draw.between(0.05, 0.95);
    const Vec3 axis = (beam.end - beam.start).normalized();
    const double turn = draw.between(0, kTwoPi);
    const Vec3 first = any_perpendicular(axis), second = axis.cross(first);
    const Vec3 out = std::cos(turn) * first + std::sin(turn) * second;
    const double radius = beam.start_radius + f * (beam.end_radius - beam.start_radius);
    const Vec3 middle =
        beam.start + f * (beam.end - beam.start) + (radius + draw.between(-0.4, 0.4)) * out;
    const Vec3 along = (axis.cross(out) + draw.between(-0.5, 0.5) * axis).normalized();
    const Vec3 a = middle - 50 * along, b = middle + 50 * along;
    const Vec3 u = 0.1 * out, v = 0.1 * along.cross(out);
    const auto at = static_cast<std::uint32_t>(mesh.vertices.size());
    for (const Vec3& end : {a, b}) {
      mesh.vertices.insert(mesh.vertices.end(), {end + u, end + v, end - u, end - v});
    }
    for (std::uint32_t i = 0; i < 4; ++i) {
      const std::uint32_t j = (i + 1) % 4;
      mesh.triangles.push_back({at + i, at + j, at + 4 + i});
      mesh.triangles.push_back({at + j, at + 4 + j, at + 4 + i});
    }
  }
  return mesh;
}

std::vector<RoundCone> planning_beams(std::size_t count) {
  constexpr std::size_t kStations = 200;
  Draw draw(31);
  std::vector<RoundCone> beams;
  const std::size_t each = (count + kStations - 1) / kStations;
  while (beams.size() < count) {
    const double along = draw.between(0.05, 0.95), turn = draw.between(0, kTwoPi);
    const SkinPoint under = skin_point(along, turn);
    const Vec3 station = under.at + draw.between(3000, 8000) * under.normal;
    for (std::size_t i = 0; i < each && beams.size() < count; ++i) {
      const double low = std::max(0.01, along - 8000 / kLength);
      const double high = std::min(0.99, along + 8000 / kLength);
      const double target_along = draw.between(low, high);
      beams.push_back(beam_to(station, target_at(target_along, draw.between(0, kTwoPi))));
    }
  }
  return beams;
}

std::vector<RoundCone> skimming_beams(std::size_t count) {
  Draw draw(32);
  std::vector<RoundCone> beams;
  while (beams.size() < count) {
    const double along = draw.between(0.05, 0.95), turn = draw.between(0, kTwoPi);
    const SkinPoint point = skin_point(along, turn);
    const Vec3 across = any_perpendicular(point.normal);
    const double heading = draw.between(0, kTwoPi);
    const Vec3 level = std::cos(heading) * across + std::sin(heading) * point.normal.cross(across);
    const double climb = draw.between(0, 4) * std::numbers::pi / 180;
    const Vec3 direction = std::cos(climb) * level + std::sin(climb) * point.normal;
    const Vec3 target = point.at + kTargetHeight * point.normal;
    beams.push_back(beam_to(target + draw.between(3000, 8000) * direction, target));
  }
  return beams;
}

}  // namespace standpoint::bench
