#include "io/write/page/packed_parts.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include <meshoptimizer.h>
#include <Eigen/LU>

namespace standpoint {
namespace {

using Floats = std::array<float, 3>;
using Triangle = std::array<std::uint32_t, 3>;
static_assert(sizeof(Vec3) == 3 * sizeof(double));

/// To the bit: 0 is not -0.
bool is_same(const Vec3& a, const Vec3& b) {
  return a == b && std::signbit(a.x()) == std::signbit(b.x()) &&
         std::signbit(a.y()) == std::signbit(b.y()) && std::signbit(a.z()) == std::signbit(b.z());
}

template <class T>
std::string plain_bytes(const std::vector<T>& values) {
  return {reinterpret_cast<const char*>(values.data()), values.size() * sizeof(T)};
}

/// With meshopt's vertex codec; nothing where it does not give back what it was given.
template <class T>
std::optional<std::string> with_vertex_codec(const std::vector<T>& values) {
  std::string bytes(meshopt_encodeVertexBufferBound(values.size(), sizeof(T)), '\0');
  bytes.resize(meshopt_encodeVertexBuffer(reinterpret_cast<unsigned char*>(bytes.data()),
                                          bytes.size(), values.data(), values.size(), sizeof(T)));
  std::vector<T> back(values.size());
  const int failure = meshopt_decodeVertexBuffer(
      back.data(), values.size(), sizeof(T), reinterpret_cast<const unsigned char*>(bytes.data()),
      bytes.size());
  if (failure != 0 || plain_bytes(back) != plain_bytes(values)) return std::nullopt;
  return bytes;
}

/// Finds the coordinates that a vertex had in its file, where they were floats.
class Recall {
 public:
  explicit Recall(const Placement& placement, const std::vector<Vec3>& vertices)
      : placement_(placement), body_from_world_(placement.turn.inverse()) {
    double reach = placement.shift.cwiseAbs().maxCoeff();
    for (const Vec3& v : vertices) reach = std::max(reach, v.cwiseAbs().maxCoeff());
    // What the inverse leaves of a coordinate that was 0: a few roundings at the farthest place.
    dust_ = 1e-15 * 16 * reach / placement.mm_per_coordinate;
  }

  /// Nothing where no float near gives this very place.
  [[nodiscard]] std::optional<Floats> operator()(const Vec3& place) const {
    const Vec3 x = body_from_world_ * (place - placement_.shift) / placement_.mm_per_coordinate;
    if (!(x.cwiseAbs().maxCoeff() <= std::numeric_limits<float>::max())) return std::nullopt;
    for (const double dust : {dust_, 0.0}) {
      Floats floats;
      for (Eigen::Index i = 0; i < 3; ++i)
        floats[static_cast<std::size_t>(i)] =
            std::abs(x[i]) <= dust ? 0.0f : static_cast<float>(x[i]);
      if (is_same(placed(placement_, Vec3(floats[0], floats[1], floats[2])), place)) return floats;
    }
    return std::nullopt;
  }

 private:
  const Placement& placement_;
  Mat3 body_from_world_;
  double dust_ = 0;
};

}  // namespace

PackedVertices pack_vertices(const std::vector<Vec3>& vertices, const Placement& placement) {
  PackedVertices packed;
  packed.coordinates.bytes = plain_bytes(vertices);
  if (vertices.empty()) return packed;
  const Recall recall(placement, vertices);
  std::vector<Floats> floats;
  floats.reserve(vertices.size());
  for (std::size_t i = 0; i < vertices.size(); ++i) {
    const auto found = recall(vertices[i]);
    if (!found) packed.exceptions.emplace_back(static_cast<std::uint32_t>(i), vertices[i]);
    floats.push_back(found.value_or(floats.empty() ? Floats{} : floats.back()));
  }
  // An exception costs 28 bytes where a float costs up to 12 and a double up to 24.
  if (packed.exceptions.size() < vertices.size() / 4) {
    if (auto bytes = with_vertex_codec(floats)) {
      packed.coordinates = {"float", std::move(*bytes)};
      return packed;
    }
  }
  packed.exceptions.clear();
  if (auto bytes = with_vertex_codec(vertices)) packed.coordinates = {"double", std::move(*bytes)};
  return packed;
}

PackedTriangles pack_triangles(const std::vector<Triangle>& triangles, std::size_t vertex_count) {
  PackedTriangles packed;
  packed.indices.bytes = plain_bytes(triangles);
  if (triangles.empty()) return packed;
  const std::size_t count = 3 * triangles.size();
  std::string bytes(meshopt_encodeIndexBufferBound(count, vertex_count), '\0');
  meshopt_encodeIndexVersion(1);
  bytes.resize(meshopt_encodeIndexBuffer(reinterpret_cast<unsigned char*>(bytes.data()),
                                         bytes.size(), triangles.data()->data(), count));
  std::vector<Triangle> back(triangles.size());
  if (meshopt_decodeIndexBuffer(back.data(), count, sizeof(std::uint32_t),
                                reinterpret_cast<const unsigned char*>(bytes.data()),
                                bytes.size()) != 0) {
    return packed;
  }
  std::string turns((triangles.size() + 3) / 4, '\0');
  for (std::size_t t = 0; t < triangles.size(); ++t) {
    Triangle turned = back[t];
    unsigned turn = 0;
    for (; turn < 3 && turned != triangles[t]; ++turn)
      std::rotate(turned.begin(), turned.begin() + 1, turned.end());
    if (turn == 3) return packed;
    turns[t / 4] =
        static_cast<char>(static_cast<unsigned char>(turns[t / 4]) | turn << 2 * (t % 4));
  }
  return {{"mesh", std::move(bytes)}, {"turned", std::move(turns)}};
}

}  // namespace standpoint
