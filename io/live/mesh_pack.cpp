#include "io/live/mesh_pack.h"

#include <nlohmann/json.hpp>

#include "io/live/packed_parts.h"
#include "io/live/packed_text.h"
#include "io/words/json_parts.h"

namespace standpoint {
namespace {

Json pack_body(const Body& body, std::string& bytes) {
  Json layout;
  const auto add = [&](const char* key, const PackedPart& part) {
    layout[key] = Json::array({part.coding, part.bytes.size()});
    bytes += part.bytes;
  };
  const PackedVertices vertices = pack_vertices(body.mesh.vertices, body.placement);
  add("vertices", vertices.coordinates);
  layout["exceptions"] = vertices.exceptions.size();
  for (const auto& [vertex, place] : vertices.exceptions) append(bytes, vertex);
  for (const auto& [vertex, place] : vertices.exceptions) append(bytes, place);
  const PackedTriangles triangles = pack_triangles(body.mesh.triangles, body.mesh.vertices.size());
  add("triangles", triangles.indices);
  add("turns", triangles.turns);
  layout["faces"] = body.mesh.face_of_triangle.size();
  for (const std::uint32_t face : body.mesh.face_of_triangle) append(bytes, face);
  return layout;
}

}  // namespace

std::string pack_meshes(const std::vector<Body>& bodies) {
  Json layouts = Json::array();
  std::string parts;
  for (const Body& body : bodies) layouts.push_back(pack_body(body, parts));
  std::string whole = layouts.dump();
  whole += '\n';
  whole += parts;
  return packed_text(whole);
}

}  // namespace standpoint
