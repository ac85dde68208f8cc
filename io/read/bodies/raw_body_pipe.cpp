#include "io/read/bodies/raw_body_pipe.h"

#include <unistd.h>
#include <algorithm>
#include <cerrno>
#include <cstdint>
#include <new>
#include <stdexcept>
#include <type_traits>

namespace standpoint {
namespace {

// More elements than this in one vector are a damaged message, not a mesh: indices are 32 bits.
constexpr std::uint64_t kMostElements = std::uint64_t{1} << 33;
constexpr std::size_t kMostAtOnce = std::size_t{1} << 30;

class Writer {
 public:
  explicit Writer(int pipe) : pipe_(pipe) {}

  [[nodiscard]] bool ok() const { return ok_; }

  void bytes(const void* from, std::size_t count) {
    const char* at = static_cast<const char*>(from);
    while (ok_ && count > 0) {
      const ssize_t done = ::write(pipe_, at, std::min(count, kMostAtOnce));
      if (done > 0) {
        at += done;
        count -= static_cast<std::size_t>(done);
      } else if (errno != EINTR) {
        ok_ = false;
      }
    }
  }
  template <class T>
  void value(const T& x) {
    static_assert(std::is_trivially_copyable_v<T>);
    bytes(&x, sizeof x);
  }
  template <class T>
  void plain_vector(const std::vector<T>& v) {
    value<std::uint64_t>(v.size());
    bytes(v.data(), v.size() * sizeof(T));
  }
  void text(const std::string& s) {
    value<std::uint64_t>(s.size());
    bytes(s.data(), s.size());
  }
  void texts(const std::vector<std::string>& v) {
    value<std::uint64_t>(v.size());
    for (const std::string& s : v) {
      text(s);
    }
  }

 private:
  int pipe_;
  bool ok_ = true;
};

class Reader {
 public:
  explicit Reader(int pipe) : pipe_(pipe) {}

  [[nodiscard]] bool ok() const { return ok_; }

  void bytes(void* to, std::size_t count) {
    char* at = static_cast<char*>(to);
    while (ok_ && count > 0) {
      const ssize_t done = ::read(pipe_, at, std::min(count, kMostAtOnce));
      if (done > 0) {
        at += done;
        count -= static_cast<std::size_t>(done);
      } else if (done == 0 || errno != EINTR) {
        ok_ = false;
      }
    }
  }
  template <class T>
  T value() {
    static_assert(std::is_trivially_copyable_v<T>);
    T x{};
    bytes(&x, sizeof x);
    return x;
  }
  std::size_t count() {
    const auto n = value<std::uint64_t>();
    ok_ = ok_ && n <= kMostElements;
    return ok_ ? static_cast<std::size_t>(n) : 0;
  }
  template <class T>
  void plain_vector(std::vector<T>& v) {
    v.resize(count());
    bytes(v.data(), v.size() * sizeof(T));
  }
  std::string text() {
    std::string s(count(), '\0');
    bytes(s.data(), s.size());
    return s;
  }
  std::vector<std::string> texts() {
    std::vector<std::string> v;
    for (std::size_t left = count(); ok_ && left > 0; --left) {
      v.push_back(text());
    }
    return v;
  }

 private:
  int pipe_;
  bool ok_ = true;
};

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

FromPipe read_parts(Reader& in) {
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
  Writer out(pipe);
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

FromPipe read_from_pipe(int pipe) {
  Reader in(pipe);
  try {
    return read_parts(in);
  } catch (const std::bad_alloc&) {
    return {false, tl::unexpected(std::string())};
  } catch (const std::length_error&) {
    return {false, tl::unexpected(std::string())};
  }
}

}  // namespace standpoint
