// Meshes packed for the page come back bit by bit. The reader here follows docs/page-engine.md and
// shares no code with the packer; the page's own reader is tested in tests/page.

#include "io/write/page/mesh_pack.h"
#include "geometry/placement.h"
#include "tests/draw.h"

#include <bit>
#include <cstring>
#include <limits>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <meshoptimizer.h>
#include <zlib.h>
#include <nlohmann/json.hpp>

namespace standpoint {
namespace {

using Triangle = std::array<std::uint32_t, 3>;

std::string bytes_of_text(const std::string& text) {
  const std::size_t count = std::stoul(text);
  std::string bytes;
  for (std::size_t at = text.find(' ') + 1; at + 5 <= text.size(); at += 5) {
    std::uint32_t four = 0;
    for (std::size_t k = 0; k < 5; ++k) {
      const int c = text[at + k];
      EXPECT_TRUE(c >= '(' && c <= '~' && c != '<' && c != '\\') << c;
      four = four * 85 + static_cast<std::uint32_t>(c - '(' - (c > '<') - (c > '\\'));
    }
    for (int k = 3; k >= 0; --k) bytes += static_cast<char>(four >> (8 * k));
  }
  EXPECT_LT(bytes.size() - count, 4u);
  bytes.resize(count);
  return bytes;
}

std::string inflated(const std::string& bytes) {
  z_stream stream{};
  EXPECT_EQ(inflateInit2(&stream, -MAX_WBITS), Z_OK);
  std::string whole(64 << 20, '\0');
  stream.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(bytes.data()));
  stream.avail_in = static_cast<uInt>(bytes.size());
  stream.next_out = reinterpret_cast<Bytef*>(whole.data());
  stream.avail_out = static_cast<uInt>(whole.size());
  EXPECT_EQ(inflate(&stream, Z_FINISH), Z_STREAM_END);
  EXPECT_EQ(stream.avail_in, 0u);
  whole.resize(stream.total_out);
  inflateEnd(&stream);
  return whole;
}

/// Takes values from the front of bytes.
struct Taker {
  std::string_view rest;
  std::string_view bytes(std::size_t count) {
    const std::string_view taken = rest.substr(0, count);
    EXPECT_EQ(taken.size(), count);
    rest.remove_prefix(taken.size());
    return taken;
  }
  template <class T>
  std::vector<T> values(std::size_t count) {
    std::vector<T> list(count);
    const std::string_view from = bytes(count * sizeof(T));
    if (!from.empty()) std::memcpy(static_cast<void*>(list.data()), from.data(), from.size());
    return list;
  }
};

const unsigned char* start(std::string_view bytes) {
  return reinterpret_cast<const unsigned char*>(bytes.data());
}

/// A body's surface, and how it was placed.
struct PlacedMesh {
  Mesh mesh;
  Placement placement;
};

Cell cell_of(const std::vector<PlacedMesh>& bodies) {
  Scene scene;
  Meshes meshes;
  for (const PlacedMesh& body : bodies) {
    scene.bodies.push_back({"", BodyRole::part, body.placement});
    meshes.push_back(std::make_shared<const Mesh>(body.mesh));
  }
  return {std::move(scene), std::move(meshes)};
}

std::vector<Vec3> unpack_vertices(const nlohmann::json& layout, const PlacedMesh& body,
                                  Taker& taker) {
  const std::size_t count = body.mesh.vertices.size();
  const std::string coding = layout["vertices"][0];
  const std::string_view bytes = taker.bytes(layout["vertices"][1]);
  std::vector<Vec3> vertices(count);
  if (coding == "float") {
    std::vector<std::array<float, 3>> floats(count);
    EXPECT_EQ(meshopt_decodeVertexBuffer(floats.data(), count, 12, start(bytes), bytes.size()), 0);
    for (std::size_t i = 0; i < count; ++i)
      vertices[i] = placed(body.placement, Vec3(floats[i][0], floats[i][1], floats[i][2]));
  } else if (coding == "double") {
    EXPECT_EQ(meshopt_decodeVertexBuffer(vertices.data(), count, 24, start(bytes), bytes.size()),
              0);
  } else {
    EXPECT_EQ(coding, "plain");
    vertices = Taker{bytes}.values<Vec3>(count);
  }
  const auto numbers = taker.values<std::uint32_t>(layout["exceptions"]);
  const auto places = taker.values<Vec3>(layout["exceptions"]);
  for (std::size_t i = 0; i < numbers.size(); ++i) vertices.at(numbers[i]) = places[i];
  return vertices;
}

std::vector<Triangle> unpack_triangles(const nlohmann::json& layout, std::size_t count,
                                       Taker& taker) {
  const std::string_view bytes = taker.bytes(layout["triangles"][1]);
  const std::string_view turns = taker.bytes(layout["turns"][1]);
  if (layout["triangles"][0] == "plain") return Taker{bytes}.values<Triangle>(count);
  std::vector<Triangle> triangles(count);
  EXPECT_EQ(meshopt_decodeIndexBuffer(triangles.data(), 3 * count, 4, start(bytes), bytes.size()),
            0);
  for (std::size_t t = 0; t < count; ++t) {
    const int turn = static_cast<unsigned char>(turns[t / 4]) >> (2 * (t % 4)) & 3;
    std::rotate(triangles[t].begin(), triangles[t].begin() + turn, triangles[t].end());
  }
  return triangles;
}

/// Packs, unpacks, expects the same bits; gives the layout that was written.
nlohmann::json round_trip(const std::vector<PlacedMesh>& bodies) {
  const std::string whole = inflated(bytes_of_text(pack_meshes(cell_of(bodies))));
  const std::size_t head = whole.find('\n');
  const nlohmann::json layouts = nlohmann::json::parse(whole.substr(0, head));
  EXPECT_EQ(layouts.size(), bodies.size());
  Taker taker{std::string_view(whole).substr(head + 1)};
  for (std::size_t b = 0; b < bodies.size(); ++b) {
    const Mesh& mesh = bodies[b].mesh;
    const std::vector<Vec3> vertices = unpack_vertices(layouts[b], bodies[b], taker);
    for (std::size_t i = 0; i < vertices.size(); ++i) {
      for (int axis = 0; axis < 3; ++axis) {
        EXPECT_EQ(std::bit_cast<std::uint64_t>(vertices[i][axis]),
                  std::bit_cast<std::uint64_t>(mesh.vertices[i][axis]))
            << "body " << b << ", vertex " << i;
      }
    }
    EXPECT_EQ(unpack_triangles(layouts[b], mesh.triangles.size(), taker), mesh.triangles);
    EXPECT_EQ(taker.values<std::uint32_t>(layouts[b]["faces"]), mesh.face_of_triangle);
  }
  EXPECT_TRUE(taker.rest.empty());
  return layouts;
}

/// A bumpy sheet of n x n points, as floats of a file, placed.
PlacedMesh sheet(std::uint32_t n, const Placement& placement) {
  PlacedMesh body;
  body.placement = placement;
  for (std::uint32_t i = 0; i < n; ++i) {
    for (std::uint32_t j = 0; j < n; ++j) {
      const auto z = static_cast<float>(std::sin(0.3 * i) + std::cos(0.2 * j));
      body.mesh.vertices.push_back(
          placed(placement, Vec3(0.1f * static_cast<float>(i), 0.1f * static_cast<float>(j), z)));
      if (i == 0 || j == 0) continue;
      const std::uint32_t d = i * n + j, c = d - 1, b = d - n, a = b - 1;
      body.mesh.triangles.push_back({a, b, c});
      body.mesh.triangles.push_back({c, b, d});
    }
  }
  return body;
}

Placement turned(double degrees, double scale) {
  Placement placement;
  const double rad = degrees * 3.14159265358979 / 180;
  placement.turn = (Eigen::AngleAxisd(rad, Vec3(1, 2, 3).normalized())).toRotationMatrix();
  placement.shift = {1234.5, -777, 1e4};
  placement.mm_per_coordinate = scale;
  return placement;
}

TEST(MeshPack, CoordinatesOfAFileGoAsFloatsHoweverTheyWerePlaced) {
  for (const double degrees : {0.0, 90.0, 33.3}) {
    for (const double scale : {1.0, 25.4, 1000.0}) {
      const auto layouts = round_trip({sheet(60, turned(degrees, scale))});
      EXPECT_EQ(layouts[0]["vertices"][0], "float") << degrees << ' ' << scale;
      EXPECT_LT(layouts[0]["exceptions"], 40) << degrees << ' ' << scale;
    }
  }
}

TEST(MeshPack, FewPlacesThatNoFloatGivesAreExceptions) {
  PlacedMesh body = sheet(40, turned(33.3, 25.4));
  for (const std::size_t i : {0u, 7u, 1599u}) body.mesh.vertices[i] += Vec3(1e-9, 0, 1e-5);
  const auto layouts = round_trip({body});
  EXPECT_EQ(layouts[0]["vertices"][0], "float");
  EXPECT_GE(layouts[0]["exceptions"], 3);
}

TEST(MeshPack, PlacesOfNoFloatGoAsDoubles) {
  PlacedMesh body = sheet(40, {});
  for (Vec3& v : body.mesh.vertices) v *= 1.0 / 3;
  EXPECT_EQ(round_trip({body})[0]["vertices"][0], "double");
}

TEST(MeshPack, DegenerateBodiesComeBack) {
  constexpr double kTiny = std::numeric_limits<double>::denorm_min();
  PlacedMesh empty, one, vertices_alone, odd;
  one.mesh.vertices = {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}};
  one.mesh.triangles = {{0, 1, 2}};
  vertices_alone.mesh.vertices = {{1, 2, 3}};
  odd.mesh.vertices = {{-0.0, 0.0, kTiny},
                       {1e300, -1e300, 1e39},
                       {1, 1, 1},
                       {1, 1, 1},
                       {3e-39f, -1e-45f, 0},
                       {kTiny, -kTiny, 2.5e-308},
                       {0.1, 0.1f, -1e15 + 0.5},
                       {16777217, 0, -0.0}};
  odd.mesh.triangles = {{0, 0, 0}, {7, 6, 5}, {5, 6, 7}, {1, 1, 2}, {2, 1, 1}, {7, 6, 5}};
  odd.mesh.face_of_triangle = {0, 5, 4, 4000000000u, 0, 1};
  round_trip({});
  round_trip({empty});
  round_trip({empty, one, empty, vertices_alone, odd, one});
  for (const double degrees : {0.0, 90.0, 200.0}) {
    odd.placement = one.placement = turned(degrees, 1000);
    round_trip({odd, one});
  }
}

TEST(MeshPack, AnyOrderOfTrianglesAndCornersComesBack) {
  test::Draw draw(3);
  PlacedMesh body = sheet(30, {});
  draw.shuffle(body.mesh.triangles);
  for (Triangle& t : body.mesh.triangles) draw.shuffle(t);
  EXPECT_EQ(round_trip({body})[0]["triangles"][0], "mesh");
}

TEST(MeshPack, SameMeshesSameBytes) {
  const std::vector<PlacedMesh> bodies{sheet(30, turned(10, 1)), sheet(20, {})};
  EXPECT_EQ(pack_meshes(cell_of(bodies)), pack_meshes(cell_of(bodies)));
}

}  // namespace
}  // namespace standpoint
