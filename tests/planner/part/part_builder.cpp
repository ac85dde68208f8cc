#include "tests/planner/part/part_builder.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace standpoint::test {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kChord = 2 * kPi / 48;

using Points = std::vector<Vec3>;

/// From angle `from` to `to` about the z axis through (x, y).
Points arc(double x, double y, double radius, double z, double from, double to) {
  const int pieces = std::max(2, static_cast<int>(std::ceil(std::abs(to - from) / kChord)));
  Points points;
  for (int i = 0; i <= pieces; ++i) {
    const double a = from + (to - from) * i / pieces;
    points.emplace_back(x + radius * std::cos(a), y + radius * std::sin(a), z);
  }
  return points;
}

Points circle(double x, double y, double radius, double z, bool left_round) {
  return left_round ? arc(x, y, radius, z, 0, 2 * kPi) : arc(x, y, radius, z, 2 * kPi, 0);
}

/// Whether two edges run along one another, whichever way each goes.
bool is_same_edge(const Points& a, const Points& b) {
  const auto near = [](const Vec3& p, const Vec3& q) { return (p - q).norm() < 1e-6; };
  const auto middle = [](const Points& p) {
    return p.size() % 2 == 1 ? p[p.size() / 2] : Vec3((p[p.size() / 2] + p[p.size() / 2 - 1]) / 2);
  };
  const bool ends = (near(a.front(), b.front()) && near(a.back(), b.back())) ||
                    (near(a.front(), b.back()) && near(a.back(), b.front()));
  return ends && near(middle(a), middle(b));
}

}  // namespace

std::size_t PartBuilder::plane(const Vec3& at, const Vec3& normal) {
  Face face;
  face.surface.kind = SurfaceKind::plane;
  face.surface.at = at;
  face.surface.axis = normal;
  face.solid = solid_;
  part_.faces.push_back(face);
  return part_.faces.size() - 1;
}

std::size_t PartBuilder::round(SurfaceKind kind, const Vec3& at, double radius, bool hollow) {
  const std::size_t number = plane(at, Vec3::UnitZ());
  Face& face = part_.faces[number];
  face.surface.kind = kind;
  face.surface.radius = radius;
  face.hollow = hollow;
  return number;
}

void PartBuilder::rim(std::size_t face, const std::vector<Points>& edges, EdgeBend bend) {
  Loop loop;
  for (const Points& points : edges) {
    Edge edge;
    edge.bend = bend;
    edge.points = points;
    loop.push_back(std::move(edge));
  }
  part_.faces[face].loops.push_back(std::move(loop));
}

PartBuilder& PartBuilder::block(double x, double y, double wide, double deep, double bottom,
                                double top, const std::vector<Drilling>& drillings) {
  const double x1 = x + wide, y1 = y + deep;
  const std::vector<Vec3> corners = {{x, y, 0}, {x1, y, 0}, {x1, y1, 0}, {x, y1, 0}};
  const auto at = [&](std::size_t i, double z) {
    return Vec3(corners[i % 4].x(), corners[i % 4].y(), z);
  };
  top_ = top;
  bottom_ = bottom;
  const std::size_t upper = plane({x, y, top}, Vec3::UnitZ());
  const std::size_t lower = plane({x, y, bottom}, -Vec3::UnitZ());
  std::vector<Points> above, below;
  for (std::size_t i = 0; i < 4; ++i) {
    above.push_back({at(i, top), at(i + 1, top)});
    below.push_back({at(4 - i, bottom), at(3 - i, bottom)});
    const Vec3 out = (at(i + 1, 0) - at(i, 0)).normalized().cross(Vec3::UnitZ());
    const std::size_t side = plane(at(i, bottom), out);
    rim(side,
        {{at(i, bottom), at(i + 1, bottom)},
         {at(i + 1, bottom), at(i + 1, top)},
         {at(i + 1, top), at(i, top)},
         {at(i, top), at(i, bottom)}},
        EdgeBend::convex);
    part_.faces[side].area = (at(i + 1, 0) - at(i, 0)).norm() * (top - bottom);
  }
  rim(upper, above, EdgeBend::convex);
  rim(lower, below, EdgeBend::convex);
  part_.faces[upper].area = part_.faces[lower].area = wide * deep;
  for (const Drilling& drilling : drillings) drill(drilling, upper, lower);
  return *this;
}

void PartBuilder::wall(const Drilling& d, double radius, double low, double high, EdgeBend at_low,
                       EdgeBend at_high) {
  const auto add = [&](double from, double to) {
    const std::size_t face = round(SurfaceKind::cylinder, {d.x, d.y, low}, radius, true);
    const Points under = arc(d.x, d.y, radius, low, to, from);
    const Points over = arc(d.x, d.y, radius, high, from, to);
    const bool is_whole = to - from > 2 * kPi - 1e-9;
    if (is_whole && !d.is_seamed) {
      rim(face, {over}, at_high);
      rim(face, {under}, at_low);
    } else {
      rim(face, {under, {under.back(), over.front()}, over, {over.back(), under.front()}},
          EdgeBend::smooth);
      part_.faces[face].loops.back()[0].bend = at_low;
      part_.faces[face].loops.back()[2].bend = at_high;
    }
    part_.faces[face].area = radius * (to - from) * (high - low);
  };
  const double round = 2 * kPi - d.notch_rad;
  for (std::size_t i = 0; i < d.pieces; ++i)
    add(round * static_cast<double>(i) / static_cast<double>(d.pieces),
        round * static_cast<double>(i + 1) / static_cast<double>(d.pieces));
}

/// A round of an edge about the hole's axis, tangent to both faces that it joins.
void PartBuilder::torus(const Drilling& d, double axis_to_tube, double z, bool hollow,
                        double rim_wide, double z_wide, double rim_narrow, double z_narrow) {
  const std::size_t face = round(SurfaceKind::torus, {d.x, d.y, z}, axis_to_tube, hollow);
  part_.faces[face].surface.tube_radius = d.round;
  part_.faces[face].area = 1;
  rim(face, {circle(d.x, d.y, rim_wide, z_wide, true)}, EdgeBend::smooth);
  rim(face, {circle(d.x, d.y, rim_narrow, z_narrow, false)}, EdgeBend::smooth);
}

void PartBuilder::drill(const Drilling& d, std::size_t top, std::size_t bottom) {
  double z = top_;
  double widest = d.bores.front().radius;
  if (d.countersink > 0) {
    z -= d.countersink - widest;
    const std::size_t cone = round(SurfaceKind::cone, {d.x, d.y, z}, widest, true);
    part_.faces[cone].surface.half_angle_rad = kPi / 4;
    part_.faces[cone].area = 1;
    rim(cone, {circle(d.x, d.y, d.countersink, top_, true)}, EdgeBend::convex);
    rim(cone, {circle(d.x, d.y, widest, z, false)}, EdgeBend::convex);
    widest = d.countersink;
  }
  if (d.round > 0) {
    torus(d, widest + d.round, z - d.round, false, widest + d.round, z, widest, z - d.round);
    widest += d.round;
    z -= d.round;
  }
  rim(top, {circle(d.x, d.y, widest, top_, false)},
      d.round > 0 ? EdgeBend::smooth : EdgeBend::convex);
  for (std::size_t i = 0; i < d.bores.size(); ++i) {
    const Bore& bore = d.bores[i];
    const bool is_last = i + 1 == d.bores.size();
    const bool narrows = !is_last && d.bores[i + 1].radius < bore.radius;
    const bool opened = i > 0 && d.bores[i - 1].radius < bore.radius;
    const double low = is_last && d.end == HoleEnd::through ? bottom_ : z - bore.depth;
    const bool rounded = d.round > 0 && is_last && d.end == HoleEnd::flat;
    EdgeBend at_low = is_last ? (d.end == HoleEnd::through ? EdgeBend::convex : EdgeBend::concave)
                              : (narrows ? EdgeBend::concave : EdgeBend::convex);
    if (rounded) at_low = EdgeBend::smooth;
    EdgeBend at_high = opened ? EdgeBend::concave : EdgeBend::convex;
    if (d.round > 0 && i == 0) at_high = EdgeBend::smooth;
    wall(d, bore.radius, low, z, at_low, at_high);
    if (!is_last) {
      const double next = d.bores[i + 1].radius;
      const std::size_t ring =
          plane({d.x, d.y, low}, narrows ? Vec3(Vec3::UnitZ()) : Vec3(-Vec3::UnitZ()));
      rim(ring, {circle(d.x, d.y, std::max(bore.radius, next), low, narrows)}, EdgeBend::concave);
      rim(ring, {circle(d.x, d.y, std::min(bore.radius, next), low, !narrows)}, EdgeBend::convex);
      part_.faces[ring].area = 1;
    } else if (d.end == HoleEnd::through) {
      rim(bottom, {circle(d.x, d.y, bore.radius, low, true)}, EdgeBend::convex);
    } else if (d.end == HoleEnd::flat) {
      const double flat = bore.radius - d.round, deep = low - d.round;
      if (rounded) torus(d, flat, low, true, bore.radius, low, flat, deep);
      const std::size_t floor = plane({d.x, d.y, deep}, Vec3::UnitZ());
      rim(floor, {circle(d.x, d.y, flat, deep, true)},
          rounded ? EdgeBend::smooth : EdgeBend::concave);
      part_.faces[floor].area = kPi * bore.radius * bore.radius;
    } else {
      const std::size_t tip = round(SurfaceKind::cone, {d.x, d.y, low}, bore.radius, true);
      part_.faces[tip].surface.half_angle_rad = 59 * kPi / 180;
      part_.faces[tip].area = 1;
      rim(tip, {circle(d.x, d.y, bore.radius, low, true)}, EdgeBend::concave);
    }
    z = low;
  }
}

PartBuilder& PartBuilder::boss(double x, double y, double radius, double bottom, double top) {
  const std::size_t side = round(SurfaceKind::cylinder, {x, y, bottom}, radius, false);
  rim(side, {circle(x, y, radius, bottom, true)}, EdgeBend::concave);
  rim(side, {circle(x, y, radius, top, false)}, EdgeBend::convex);
  part_.faces[side].area = 2 * kPi * radius * (top - bottom);
  const std::size_t end = plane({x, y, top}, Vec3::UnitZ());
  rim(end, {circle(x, y, radius, top, true)}, EdgeBend::convex);
  part_.faces[end].area = kPi * radius * radius;
  return *this;
}

PartBuilder& PartBuilder::slot(double x, double y, double width, double length, double bottom,
                               double top, bool is_whole) {
  const double r = width / 2, half = (length - width) / 2;
  const auto end = [&](double at, double from) {
    const std::size_t face = round(SurfaceKind::cylinder, {at, y, bottom}, r, true);
    const Points under = arc(at, y, r, bottom, from + kPi, from);
    const Points over = arc(at, y, r, top, from, from + kPi);
    rim(face, {under, {under.back(), over.front()}, over, {over.back(), under.front()}},
        EdgeBend::smooth);
    part_.faces[face].loops.back()[0].bend = EdgeBend::convex;
    part_.faces[face].loops.back()[2].bend = EdgeBend::convex;
    part_.faces[face].area = kPi * r * (top - bottom);
  };
  end(x + half, -kPi / 2);
  if (is_whole) end(x - half, kPi / 2);
  for (const double side : {1.0, -1.0}) {
    const double edge = y + side * r;
    const std::size_t face = plane({x, edge, bottom}, -side * Vec3::UnitY());
    rim(face,
        {{{x - half, edge, bottom}, {x + half, edge, bottom}},
         {{x + half, edge, bottom}, {x + half, edge, top}},
         {{x + half, edge, top}, {x - half, edge, top}},
         {{x - half, edge, top}, {x - half, edge, bottom}}},
        EdgeBend::smooth);
    part_.faces[face].area = 2 * half * (top - bottom);
  }
  return *this;
}

PartBuilder& PartBuilder::loose_wall(double x, double y, double radius, double bottom, double top,
                                     double from_rad, double to_rad, bool hollow) {
  const std::size_t face = round(SurfaceKind::cylinder, {x, y, bottom}, radius, hollow);
  const Points under = arc(x, y, radius, bottom, to_rad, from_rad);
  const Points over = arc(x, y, radius, top, from_rad, to_rad);
  rim(face, {under, {under.back(), over.front()}, over, {over.back(), under.front()}},
      EdgeBend::convex);
  part_.faces[face].area = radius * (to_rad - from_rad) * (top - bottom);
  return *this;
}

PartBuilder& PartBuilder::next_solid() {
  ++solid_;
  return *this;
}

PartFaces PartBuilder::done() const {
  PartFaces part = part_;
  for (std::size_t i = 0; i < part.faces.size(); ++i) {
    part.faces[i].number = i + 1;
    for (Loop& loop : part.faces[i].loops)
      for (Edge& edge : loop)
        for (std::size_t k = 0; k < part.faces.size() && !edge.beyond; ++k) {
          if (k == i || part.faces[k].solid != part.faces[i].solid) continue;
          for (const Loop& other : part.faces[k].loops)
            for (const Edge& there : other)
              if (is_same_edge(edge.points, there.points)) edge.beyond = k;
        }
  }
  return part;
}

PartFaces moved(PartFaces part, const Mat3& turn, const Vec3& shift) {
  const bool is_mirrored = turn.determinant() < 0;
  for (Face& face : part.faces) {
    face.surface.at = turn * face.surface.at + shift;
    face.surface.axis = turn * face.surface.axis;
    for (Loop& loop : face.loops) {
      for (Edge& edge : loop) {
        for (Vec3& p : edge.points) p = turn * p + shift;
        if (is_mirrored) std::reverse(edge.points.begin(), edge.points.end());
      }
      if (is_mirrored) std::reverse(loop.begin(), loop.end());
    }
  }
  return part;
}

PartFaces reordered(const PartFaces& part, const std::vector<std::size_t>& order) {
  std::vector<std::size_t> place(order.size());
  for (std::size_t i = 0; i < order.size(); ++i) place[order[i]] = i;
  PartFaces result = part;
  for (std::size_t i = 0; i < order.size(); ++i) {
    result.faces[i] = part.faces[order[i]];
    result.faces[i].number = i + 1;
    std::reverse(result.faces[i].loops.begin(), result.faces[i].loops.end());
    for (Loop& loop : result.faces[i].loops)
      for (Edge& edge : loop)
        if (edge.beyond) edge.beyond = place[*edge.beyond];
  }
  return result;
}

PartFaces turned_round(PartFaces part) {
  for (Face& face : part.faces)
    for (Loop& loop : face.loops) {
      for (Edge& edge : loop) std::reverse(edge.points.begin(), edge.points.end());
      std::reverse(loop.begin(), loop.end());
      std::rotate(loop.begin(), loop.begin() + static_cast<std::ptrdiff_t>(loop.size() / 2),
                  loop.end());
    }
  return part;
}

}  // namespace standpoint::test
