#include "tests/io/read/mesh_cuts.h"

#include <utility>
#include <vector>

#include <meshoptimizer.h>

#include "io/read/bodies/body_reader.h"
#include "tests/draw.h"

namespace standpoint::test {
namespace {

Mesh made_coarser(const Mesh& mesh, double error) {
  std::vector<float> places;
  for (const Vec3& v : mesh.vertices) {
    for (int i = 0; i < 3; ++i) places.push_back(static_cast<float>(v[i]));
  }
  std::vector<unsigned> all, kept(3 * mesh.triangles.size());
  for (const auto& t : mesh.triangles) all.insert(all.end(), t.begin(), t.end());
  const std::size_t n = mesh.vertices.size();
  const float scale = meshopt_simplifyScale(places.data(), n, 12);
  kept.resize(meshopt_simplify(kept.data(), all.data(), all.size(), places.data(), n, 12, 3,
                               static_cast<float>(error) / scale, 0, nullptr));
  Mesh coarser;
  coarser.vertices = mesh.vertices;
  for (std::size_t i = 0; i < kept.size(); i += 3) {
    coarser.triangles.push_back({kept[i], kept[i + 1], kept[i + 2]});
  }
  return coarser;
}

}  // namespace

void PrintTo(const Cut& cut, std::ostream* out) {
  *out << cut.name;
}

Mesh mesh_cut(const std::filesystem::path& file, const Cut& cut) {
  BodyRequest request;
  request.file = file;
  request.chord_tolerance = cut.chord;
  auto body = read_body(request);
  if (!body) return {};
  Mesh mesh = std::move(body->mesh);
  if (cut.coarser > 0) mesh = made_coarser(mesh, cut.coarser);
  Draw draw(11);
  for (Vec3& v : mesh.vertices) {
    for (int i = 0; i < 3; ++i) v[i] = static_cast<float>(v[i] + cut.scatter * draw.normal());
  }
  return mesh;
}

}  // namespace standpoint::test
