#include "io/read/bodies/part_pipe.h"

#include <algorithm>
#include <limits>
#include <new>
#include <stdexcept>
#include <utility>

#include "io/read/bodies/annotation_pipe.h"
#include "io/read/bodies/pipe_words.h"

namespace standpoint {
namespace {

constexpr std::uint64_t kNoFace = std::numeric_limits<std::uint64_t>::max();

void write_edge(const Edge& edge, PipeWriter& out) {
  out.value<std::uint64_t>(edge.beyond ? *edge.beyond : kNoFace);
  out.value(static_cast<int>(edge.bend));
  out.plain_vector(edge.points);
}

Edge read_edge(PipeReader& in) {
  Edge edge;
  if (const auto beyond = in.value<std::uint64_t>(); beyond != kNoFace) {
    edge.beyond = static_cast<std::size_t>(beyond);
  }
  edge.bend = static_cast<EdgeBend>(in.value<int>());
  in.plain_vector(edge.points);
  return edge;
}

void write_surface(const Surface& surface, PipeWriter& out) {
  out.value(static_cast<int>(surface.kind));
  for (const Vec3& v : {surface.at, surface.axis}) {
    out.bytes(v.data(), sizeof(double) * 3);
  }
  for (const double x : {surface.radius, surface.half_angle_rad, surface.tube_radius}) {
    out.value(x);
  }
}

Surface read_surface(PipeReader& in) {
  Surface surface;
  surface.kind = static_cast<SurfaceKind>(in.value<int>());
  for (Vec3* v : {&surface.at, &surface.axis}) {
    in.bytes(v->data(), sizeof(double) * 3);
  }
  for (double* x : {&surface.radius, &surface.half_angle_rad, &surface.tube_radius}) {
    *x = in.value<double>();
  }
  return surface;
}

void write_face(const Face& face, PipeWriter& out) {
  out.value(face.number);
  out.text(face.component);
  out.value(face.solid);
  write_surface(face.surface, out);
  out.value(face.hollow);
  out.value(face.area);
  out.value<std::uint64_t>(face.loops.size());
  for (const Loop& loop : face.loops) {
    out.value<std::uint64_t>(loop.size());
    for (const Edge& edge : loop) {
      write_edge(edge, out);
    }
  }
  out.value(face.fit.has_value());
  out.value(face.fit.value_or(SurfaceFit{}));
}

Face read_face(PipeReader& in) {
  Face face;
  face.number = in.value<std::size_t>();
  face.component = in.text();
  face.solid = in.value<std::size_t>();
  face.surface = read_surface(in);
  face.hollow = in.value<bool>();
  face.area = in.value<double>();
  for (std::size_t loops = in.count(); in.ok() && loops > 0; --loops) {
    Loop loop;
    for (std::size_t edges = in.count(); in.ok() && edges > 0; --edges) {
      loop.push_back(read_edge(in));
    }
    face.loops.push_back(std::move(loop));
  }
  const bool is_fitted = in.value<bool>();
  const auto fit = in.value<SurfaceFit>();
  if (is_fitted) {
    face.fit = fit;
  }
  return face;
}

template <class Choice>
bool is_choice(Choice choice, Choice last) {
  return static_cast<int>(choice) >= 0 && choice <= last;
}

bool is_in_range(const PartFaces& part) {
  return std::all_of(part.faces.begin(), part.faces.end(), [&](const Face& face) {
    return is_choice(face.surface.kind, SurfaceKind::other) &&
           std::all_of(face.loops.begin(), face.loops.end(), [&](const Loop& loop) {
             return std::all_of(loop.begin(), loop.end(), [&](const Edge& edge) {
               return is_choice(edge.bend, EdgeBend::open) &&
                      (!edge.beyond || *edge.beyond < part.faces.size());
             });
           });
  });
}

FromPipe<ReadPart> read_part_pieces(PipeReader& in) {
  if (!in.value<bool>()) {
    std::string sentence = in.text();
    return {in.ok(), tl::unexpected(std::move(sentence))};
  }
  ReadPart read;
  for (std::size_t faces = in.count(); in.ok() && faces > 0; --faces) {
    read.part.faces.push_back(read_face(in));
  }
  read.part.chord = in.value<double>();
  read.format = in.text();
  if (const auto stated = in.value<double>(); stated > 0) {
    read.stated_mm_per_unit = stated;
  }
  read.solids = in.value<std::size_t>();
  read.loose_faces = in.value<std::size_t>();
  read.annotation = read_annotation_from(in);
  const bool whole = in.ok() && is_in_range(read.part);
  return {whole, std::move(read)};
}

}  // namespace

bool write_to_pipe(int pipe, const tl::expected<ReadPart, std::string>& part) {
  PipeWriter out(pipe);
  out.value(part.has_value());
  if (!part) {
    out.text(part.error());
    return out.ok();
  }
  out.value<std::uint64_t>(part->part.faces.size());
  for (const Face& face : part->part.faces) {
    write_face(face, out);
  }
  out.value(part->part.chord);
  out.text(part->format);
  out.value(part->stated_mm_per_unit.value_or(0));
  out.value(part->solids);
  out.value(part->loose_faces);
  write_annotation(part->annotation, out);
  return out.ok();
}

FromPipe<ReadPart> read_part_from_pipe(int pipe) {
  PipeReader in(pipe);
  try {
    return read_part_pieces(in);
  } catch (const std::bad_alloc&) {
    return {false, tl::unexpected(std::string())};
  } catch (const std::length_error&) {
    return {false, tl::unexpected(std::string())};
  }
}

}  // namespace standpoint
