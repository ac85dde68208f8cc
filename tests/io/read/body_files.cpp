#include "tests/io/read/body_files.h"
#include "source_dir.h"

#include <algorithm>
#include <cstdlib>
#include <cstring>
#include <fstream>

#include <fmt/format.h>
#include <gtest/gtest.h>
#include <unistd.h>

namespace standpoint {
namespace fs = std::filesystem;

TestFolder::TestFolder() {
  static int count = 0;
  path_ = fs::temp_directory_path() / fmt::format("standpoint-bodies-{}-{}", ::getpid(), ++count);
  fs::create_directories(path_);
}

TestFolder::~TestFolder() {
  std::error_code ignored;
  fs::remove_all(path_, ignored);
}

fs::path TestFolder::write(const std::string& name, const std::string& bytes) const {
  std::ofstream(path_ / name, std::ios::binary) << bytes;
  return path_ / name;
}

tl::expected<ReadBody, std::string> read_plainly(const fs::path& file) {
  BodyRequest request;
  request.file = file;
  return read_body(request);
}

ReadBody read_well(const BodyRequest& request) {
  auto body = read_body(request);
  if (!body) {
    ADD_FAILURE() << request.file << ": " << body.error();
    return {};
  }
  return std::move(*body);
}

std::optional<fs::path> shared_data(const std::string& name) {
  const char* elsewhere = std::getenv("STANDPOINT_SHARED_DATA");
  const fs::path root =
      elsewhere != nullptr ? fs::path(elsewhere) : source_dir() / "../shared/data";
  std::error_code ignored;
  return fs::exists(root / name, ignored) ? std::optional(root / name) : std::nullopt;
}

Mesh block() {
  Mesh mesh;
  for (int i = 0; i < 8; ++i) {
    mesh.vertices.emplace_back(i & 1 ? 3 : 1, i & 2 ? 5 : 2, i & 4 ? 7 : 3);
  }
  mesh.triangles = {{0, 2, 1}, {1, 2, 3}, {4, 5, 6}, {5, 7, 6}, {0, 1, 4}, {1, 5, 4},
                    {2, 6, 3}, {3, 6, 7}, {0, 4, 2}, {2, 4, 6}, {1, 3, 5}, {3, 7, 5}};
  return mesh;
}

namespace {

template <class T>
void append(std::string& bytes, T value) {
  char raw[sizeof value];
  std::memcpy(raw, &value, sizeof value);
  bytes.append(raw, sizeof raw);  // little-endian, as all machines that the tests run on
}

std::string vertex_lines(const char* before) {
  std::string text;
  for (const Vec3& v : block().vertices) {
    text += fmt::format("{}{} {} {}\n", before, v.x(), v.y(), v.z());
  }
  return text;
}

std::string triangle_lines(const char* before, std::uint32_t first) {
  std::string text;
  for (const auto& t : block().triangles) {
    text += fmt::format("{}{} {} {}\n", before, t[0] + first, t[1] + first, t[2] + first);
  }
  return text;
}

std::string base64(const std::string& bytes) {
  constexpr const char* kDigits =
      "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string text;
  for (std::size_t i = 0; i < bytes.size(); i += 3) {  // the tests' lengths are multiples of three
    std::uint32_t three = 0;
    for (std::size_t k = 0; k < 3; ++k) {
      three = three << 8 | static_cast<unsigned char>(bytes[i + k]);
    }
    for (int shift = 18; shift >= 0; shift -= 6) {
      text += kDigits[three >> shift & 63];
    }
  }
  return text;
}

std::string ply_header(const char* form) {
  return fmt::format(
      "ply\nformat {} 1.0\nelement vertex 8\nproperty float x\nproperty float y\nproperty float z\n"
      "element face 12\nproperty list uchar int vertex_indices\nend_header\n",
      form);
}

}  // namespace

std::string block_as_stl_text() {
  std::string text = "solid invented block\n";
  const Mesh mesh = block();
  for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
    text += "facet normal 0 0 0\nouter loop\n";
    for (const Vec3& v : mesh.corners(i)) {
      text += fmt::format("vertex {} {} {}\n", v.x(), v.y(), v.z());
    }
    text += "endloop\nendfacet\n";
  }
  return text + "endsolid invented block\n";
}

std::string block_as_stl_binary() {
  std::string bytes(80, ' ');
  const Mesh mesh = block();
  append(bytes, static_cast<std::uint32_t>(mesh.triangles.size()));
  for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
    bytes.append(12, '\0');
    for (const Vec3& v : mesh.corners(i)) {
      for (const double x : v) {
        append(bytes, static_cast<float>(x));
      }
    }
    bytes.append(2, '\0');
  }
  return bytes;
}

std::string block_as_obj() {
  return "o invented_block\n" + vertex_lines("v ") + triangle_lines("f ", 1);
}

std::string block_as_ply_text() {
  return ply_header("ascii") + vertex_lines("") + triangle_lines("3 ", 0);
}

std::string block_as_ply_binary() {
  std::string bytes = ply_header("binary_little_endian");
  for (const Vec3& v : block().vertices) {
    for (const double x : v) {
      append(bytes, static_cast<float>(x));
    }
  }
  for (const auto& t : block().triangles) {
    bytes += '\3';
    for (const std::uint32_t corner : t) {
      append(bytes, corner);
    }
  }
  return bytes;
}

std::string block_as_off() {
  return "OFF\n# invented\n8 12 0\n" + vertex_lines("") + triangle_lines("3 ", 0);
}

std::string gltf_buffer() {
  std::string data;
  for (const Vec3& v : block().vertices) {
    for (const double x : v) {
      append(data, static_cast<float>(x));
    }
  }
  for (const auto& t : block().triangles) {
    for (const std::uint32_t corner : t) {
      append(data, static_cast<std::uint16_t>(corner));
    }
  }
  return data;
}

std::string block_as_gltf() {
  return block_as_gltf("data:application/octet-stream;base64," + base64(gltf_buffer()));
}

std::string block_as_gltf(const std::string& uri) {
  return fmt::format(
      R"({{"asset":{{"version":"2.0"}},"scene":0,"scenes":[{{"nodes":[0]}}],
"nodes":[{{"name":"place","mesh":0}}],
"meshes":[{{"name":"invented block","primitives":[{{"attributes":{{"POSITION":0}},"indices":1}}]}}],
"accessors":[{{"bufferView":0,"componentType":5126,"count":8,"type":"VEC3","min":[1,2,3],"max":[3,5,7]}},
{{"bufferView":1,"componentType":5123,"count":36,"type":"SCALAR"}}],
"bufferViews":[{{"buffer":0,"byteLength":96}},{{"buffer":0,"byteOffset":96,"byteLength":72}}],
"buffers":[{{"byteLength":168,"uri":"{}"}}]}})",
      uri);
}

std::string block_as_collada(const std::string& unit, const std::string& up) {
  std::string places;
  for (const Vec3& v : block().vertices) {
    places += fmt::format("{} {} {} ", v.x(), v.y(), v.z());
  }
  std::string corners;
  for (const auto& t : block().triangles) {
    corners += fmt::format("{} {} {} ", t[0], t[1], t[2]);
  }
  return fmt::format(
      R"(<?xml version="1.0"?><COLLADA xmlns="http://www.collada.org/2005/11/COLLADASchema" version="1.4.1">
<asset>{}<up_axis>{}</up_axis></asset><library_geometries><geometry id="g" name="invented block"><mesh>
<source id="p"><float_array id="a" count="24">{}</float_array><technique_common>
<accessor source="#a" count="8" stride="3"><param name="X" type="float"/><param name="Y" type="float"/>
<param name="Z" type="float"/></accessor></technique_common></source>
<vertices id="v"><input semantic="POSITION" source="#p"/></vertices>
<triangles count="12"><input semantic="VERTEX" source="#v" offset="0"/><p>{}</p></triangles>
</mesh></geometry></library_geometries><library_visual_scenes><visual_scene id="s"><node id="n">
<instance_geometry url="#g"/></node></visual_scene></library_visual_scenes>
<scene><instance_visual_scene url="#s"/></scene></COLLADA>)",
      unit, up, places, corners);
}

std::string block_as_amf(const std::string& unit) {
  std::string text =
      fmt::format("<?xml version=\"1.0\"?>\n<amf {}><object id=\"1\"><mesh><vertices>", unit);
  for (const Vec3& v : block().vertices) {
    text += fmt::format("<vertex><coordinates><x>{}</x><y>{}</y><z>{}</z></coordinates></vertex>",
                        v.x(), v.y(), v.z());
  }
  text += "</vertices><volume>";
  for (const auto& t : block().triangles) {
    text += fmt::format("<triangle><v1>{}</v1><v2>{}</v2><v3>{}</v3></triangle>", t[0], t[1], t[2]);
  }
  return text + "</volume></mesh></object></amf>";
}

std::string block_as_fbx(double centimetres_per_unit) {
  std::string places;
  for (const Vec3& v : block().vertices) {
    places += fmt::format("{}{},{},{}", places.empty() ? "" : ",", v.x(), v.y(), v.z());
  }
  std::string corners;
  for (const auto& t :
       block().triangles) {  // the last corner of each polygon is written as ~corner
    corners += fmt::format("{}{},{},-{}", corners.empty() ? "" : ",", t[0], t[1], t[2] + 1);
  }
  return fmt::format(R"(; FBX 7.3.0 project file
FBXHeaderExtension:  {{
	FBXHeaderVersion: 1003
	FBXVersion: 7300
}}
GlobalSettings:  {{
	Version: 1000
	Properties70:  {{
		P: "UpAxis", "int", "Integer", "",2
		P: "UnitScaleFactor", "double", "Number", "",{}
	}}
}}
Definitions:  {{
	Version: 100
}}
Objects:  {{
	Geometry: 10, "Geometry::", "Mesh" {{
		Vertices: *24 {{
			a: {}
		}}
		PolygonVertexIndex: *36 {{
			a: {}
		}}
		GeometryVersion: 124
	}}
	Model: 20, "Model::invented block", "Mesh" {{
		Version: 232
	}}
}}
Connections:  {{
	C: "OO",20,0
	C: "OO",10,20
}}
)",
                     centimetres_per_unit, places, corners);
}

namespace {

using Place = std::array<double, 3>;

std::vector<std::array<Place, 3>> sorted_triangles(const Mesh& mesh, double scale) {
  std::vector<std::array<Place, 3>> result;
  for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
    auto& triangle = result.emplace_back();
    const auto corners = mesh.corners(i);
    for (std::size_t k = 0; k < 3; ++k) {
      triangle[k] = {scale * corners[k].x(), scale * corners[k].y(), scale * corners[k].z()};
    }
    // Begun at the smallest corner, so that only the sense of turn is left.
    std::rotate(triangle.begin(), std::min_element(triangle.begin(), triangle.end()),
                triangle.end());
  }
  std::sort(result.begin(), result.end());
  return result;
}

}  // namespace

void expect_same_surface(const Mesh& found, const Mesh& expected, double scale,
                         const std::string& what) {
  EXPECT_EQ(found.vertices.size(), expected.vertices.size()) << what;
  EXPECT_EQ(sorted_triangles(found, 1), sorted_triangles(expected, scale)) << what;
}

}  // namespace standpoint
