#include "io/write/page/mesh_pack.h"

#include <nlohmann/json.hpp>

#include "io/words/json_parts.h"
#include "io/write/page/packed_parts.h"
#include "io/write/page/packed_text.h"

namespace standpoint {
namespace {

Json pack_body(const Mesh& mesh, const Placement& placement, std::string& bytes) {
  Json layout;
  const auto add = [&](const char* key, const PackedPart& part) {
    layout[key] = Json::array({part.coding, part.bytes.size()});
    bytes += part.bytes;
  };
  const PackedVertices vertices = pack_vertices(mesh.vertices, placement);
  add("vertices", vertices.coordinates);
  layout["exceptions"] = vertices.exceptions.size();
  for (const auto& [vertex, place] : vertices.exceptions) append(bytes, vertex);
  for (const auto& [vertex, place] : vertices.exceptions) append(bytes, place);
  const PackedTriangles triangles = pack_triangles(mesh.triangles, mesh.vertices.size());
  add("triangles", triangles.indices);
  add("turns", triangles.turns);
  layout["faces"] = mesh.face_of_triangle.size();
  for (const std::uint32_t face : mesh.face_of_triangle) append(bytes, face);
  return layout;
}

}  // namespace

std::string pack_meshes(const Cell& cell) {
  Json layouts = Json::array();
  std::string parts;
  const std::vector<Body>& bodies = cell.scene().bodies;
  for (std::size_t b = 0; b < bodies.size(); ++b)
    layouts.push_back(pack_body(cell.mesh(BodyId(b)), bodies[b].placement, parts));
  std::string whole = layouts.dump();
  whole += '\n';
  whole += parts;
  return packed_text(whole);
}

}  // namespace standpoint
