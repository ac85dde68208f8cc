#include "io/read/cad/cad_reader.h"

#include <utility>

#include "io/read/cad/cad_document-inl.h"

namespace standpoint {
namespace {

using Body = tl::expected<RawBody, std::string>;

/// The deflection, in the importer's unit, that is the request's chord tolerance in the scene.
double deflection_for(const CadRequest& request, const RawBody& body) {
  const double used =
      request.mm_per_unit.value_or(body.stated_mm_per_unit.value_or(request.default_mm_per_unit));
  return request.chord_tolerance / used * body.coordinates_per_unit;
}

Body body_of(CadDocument found, const CadRequest& request) {
  RawBody body;
  body.format = found.format;
  body.stated_mm_per_unit = found.stated_mm_per_unit;
  body.coordinates_per_unit = found.coordinates_per_unit;
  add_triangles(parts_of(found.document), deflection_for(request, body), found.numbers, body);
  return body;
}

Body read_step_file(const CadRequest& request, Healing healing, std::vector<std::string>& unread) {
  Document found = open_step(request.file, healing, request.mm_per_unit.has_value());
  if (!found) {
    return tl::unexpected(std::move(found.error()));
  }
  unread = found->unread;
  return body_of(std::move(*found), request);
}

/// Lightly healed first; where that loses faces, once more in full.
Body read_step_file(const CadRequest& request) {
  std::vector<std::string> unread;
  Body body = read_step_file(request, Healing::light, unread);
  if (body && !body->lost_faces.empty()) {
    Body full = read_step_file(request, Healing::full, unread);
    if (full && full->lost_faces.size() < body->lost_faces.size()) {
      body = std::move(full);
    }
  }
  if (body && body->mesh.triangles.empty() && !unread.empty()) {
    return tl::unexpected(std::string(
        "it has its surfaces as triangles only (tessellated AP242), which are not read: "
        "export it with exact surfaces, or to a mesh format"));
  }
  if (body) {
    body->lost_faces.insert(body->lost_faces.end(), unread.begin(), unread.end());
  }
  return body;
}

Body read_iges_file(const CadRequest& request) {
  Document found = open_iges(request.file);
  if (!found) {
    return tl::unexpected(std::move(found.error()));
  }
  return body_of(std::move(*found), request);
}

}  // namespace

tl::expected<RawBody, std::string> read_step(const CadRequest& request) {
  return guarded([&] { return read_step_file(request); });
}

tl::expected<RawBody, std::string> read_iges(const CadRequest& request) {
  return guarded([&] { return read_iges_file(request); });
}

}  // namespace standpoint
