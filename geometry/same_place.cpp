#include "geometry/same_place.h"

#include <bit>
#include <cstring>
#include <limits>

namespace standpoint {
namespace {

constexpr std::uint32_t kNone = std::numeric_limits<std::uint32_t>::max();

using Bits = std::array<std::uint64_t, 3>;

// Not std::bit_cast: the library that the page's engine is built with has none.
std::uint64_t bits_of(double x) {
  std::uint64_t bits = 0;
  std::memcpy(&bits, &x, sizeof bits);
  return bits;
}

Bits bits_of(const Vec3& p) {
  // Adding 0 turns -0 into 0 and leaves every other number alone.
  return {bits_of(p.x() + 0.0), bits_of(p.y() + 0.0), bits_of(p.z() + 0.0)};
}

// The finaliser of SplitMix64 (Steele, Lea & Flood, OOPSLA 2014): every bit of the input moves
// every bit of the output, which coordinates on a grid (low bits all zero) need.
std::uint64_t mixed(std::uint64_t x) {
  x = (x ^ (x >> 30)) * 0xbf58476d1ce4e5b9ULL;
  x = (x ^ (x >> 27)) * 0x94d049bb133111ebULL;
  return x ^ (x >> 31);
}

std::uint64_t hash_of(const Bits& b) {
  constexpr std::uint64_t kStep = 0x9e3779b97f4a7c15ULL;
  return mixed(mixed(mixed(b[0] + kStep) + b[1] + kStep) + b[2] + kStep);
}

}  // namespace

std::vector<std::uint32_t> first_at_same_place(std::span<const Vec3> points) {
  std::vector<std::uint32_t> first(points.size());
  // At most half full, so that linear probing stays short.
  const std::size_t slots = std::bit_ceil(2 * points.size() + 1);
  std::vector<std::uint32_t> table(slots, kNone);
  for (std::size_t i = 0; i < points.size(); ++i) {
    const Bits mine = bits_of(points[i]);
    std::size_t slot = hash_of(mine) & (slots - 1);
    while (table[slot] != kNone && bits_of(points[table[slot]]) != mine) {
      slot = (slot + 1) & (slots - 1);
    }
    if (table[slot] == kNone) {
      table[slot] = static_cast<std::uint32_t>(i);
    }
    first[i] = table[slot];
  }
  return first;
}

std::vector<std::array<std::uint32_t, 3>> joined_triangles(const Mesh& mesh) {
  const std::vector<std::uint32_t> place = first_at_same_place(mesh.vertices);
  std::vector<std::array<std::uint32_t, 3>> triangles = mesh.triangles;
  for (auto& triangle : triangles) {
    for (auto& corner : triangle) corner = place[corner];
  }
  return triangles;
}

void join_equal_vertices(Mesh& mesh) {
  std::vector<std::uint32_t> place = first_at_same_place(mesh.vertices);
  std::vector<bool> used(mesh.vertices.size(), false);
  for (auto& triangle : mesh.triangles) {
    for (auto& corner : triangle) {
      corner = place[corner];
      used[corner] = true;
    }
  }
  std::uint32_t kept = 0;
  for (std::size_t i = 0; i < mesh.vertices.size(); ++i) {
    if (used[i]) {
      mesh.vertices[kept] = mesh.vertices[i];
      place[i] = kept++;
    }
  }
  mesh.vertices.resize(kept);
  mesh.vertices.shrink_to_fit();
  for (auto& triangle : mesh.triangles) {
    for (auto& corner : triangle) {
      corner = place[corner];
    }
  }
}

}  // namespace standpoint
