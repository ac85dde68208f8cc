#include "io/read/bodies/raw_body_pipe.h"

#include <algorithm>
#include <cstdint>
#include <new>
#include <stdexcept>

#include "io/read/bodies/pipe_words.h"

namespace standpoint {
namespace {

bool indices_in_range(const Mesh& mesh) {
  const auto below = [](std::size_t limit) {
    return [limit](std::uint32_t i) { return i < limit; };
  };
  return (mesh.face_of_triangle.empty() || mesh.face_of_triangle.size() == mesh.triangles.size()) &&
         std::all_of(mesh.face_of_triangle.begin(), mesh.face_of_triangle.end(),
                     below(mesh.face_names.size())) &&
         std::all_of(mesh.triangles.begin(), mesh.triangles.end(), [&](const auto& t) {
           return std::all_of(t.begin(), t.end(), below(mesh.vertices.size()));
         });
}

FromPipe<RawBody> read_parts(PipeReader& in) {
  if (!in.value<bool>()) {
    std::string sentence = in.text();
    return {in.ok(), tl::unexpected(std::move(sentence))};
  }
  RawBody body;
  in.plain_vector(body.mesh.vertices);
  in.plain_vector(body.mesh.triangles);
  in.plain_vector(body.mesh.face_of_triangle);
  body.mesh.face_names = in.texts();
  body.format = in.text();
  if (const auto stated = in.value<double>(); stated > 0) {
    body.stated_mm_per_unit = stated;
  }
  body.coordinates_per_unit = in.value<double>();
  body.up_axis = in.value<char>();
  body.lost_faces = in.texts();
  body.fanned_polygons = in.value<std::size_t>();
  const bool whole = in.ok() && indices_in_range(body.mesh);
  return {whole, std::move(body)};
}

}  // namespace

bool write_to_pipe(int pipe, const tl::expected<RawBody, std::string>& body) {
  PipeWriter out(pipe);
  out.value(body.has_value());
  if (!body) {
    out.text(body.error());
    return out.ok();
  }
  out.plain_vector(body->mesh.vertices);
  out.plain_vector(body->mesh.triangles);
  out.plain_vector(body->mesh.face_of_triangle);
  out.texts(body->mesh.face_names);
  out.text(body->format);
  out.value(body->stated_mm_per_unit.value_or(0));
  out.value(body->coordinates_per_unit);
  out.value(body->up_axis);
  out.texts(body->lost_faces);
  out.value(body->fanned_polygons);
  return out.ok();
}

FromPipe<RawBody> read_from_pipe(int pipe) {
  PipeReader in(pipe);
  try {
    return read_parts(in);
  } catch (const std::bad_alloc&) {
    return {false, tl::unexpected(std::string())};
  } catch (const std::length_error&) {
    return {false, tl::unexpected(std::string())};
  }
}

}  // namespace standpoint
