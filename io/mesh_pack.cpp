#include "io/mesh_pack.h"

#include <cstring>
#include <stdexcept>

#include <zlib.h>

namespace standpoint {
namespace {

void append(std::string& bytes, const void* from, std::size_t count) {
  bytes.append(static_cast<const char*>(from), count);
}

std::string deflated(const std::string& bytes) {
  z_stream stream{};
  if (deflateInit2(&stream, 9, Z_DEFLATED, -MAX_WBITS, 9, Z_DEFAULT_STRATEGY) != Z_OK)
    throw std::bad_alloc();
  std::string packed(deflateBound(&stream, bytes.size()), '\0');
  stream.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(bytes.data()));
  stream.avail_in = static_cast<uInt>(bytes.size());
  stream.next_out = reinterpret_cast<Bytef*>(packed.data());
  stream.avail_out = static_cast<uInt>(packed.size());
  const int status = deflate(&stream, Z_FINISH);
  packed.resize(stream.total_out);
  deflateEnd(&stream);
  if (status != Z_STREAM_END) throw std::bad_alloc();
  return packed;
}

std::string base64(const std::string& bytes) {
  constexpr const char* kDigits =
      "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string text;
  text.reserve((bytes.size() + 2) / 3 * 4);
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    std::uint32_t three = 0;
    for (std::size_t k = 0; k < 3; ++k)
      three = three << 8 | (i + k < bytes.size() ? static_cast<unsigned char>(bytes[i + k]) : 0u);
    for (int k = 3; k >= 0; --k) text += kDigits[three >> (6 * k) & 63u];
  }
  const std::size_t missing = (3 - bytes.size() % 3) % 3;
  for (std::size_t k = 0; k < missing; ++k) text[text.size() - 1 - k] = '=';
  return text;
}

}  // namespace

std::string pack_meshes(const std::vector<Body>& bodies) {
  std::string bytes;
  for (const Body& body : bodies) {
    append(bytes, body.mesh.vertices.data(), body.mesh.vertices.size() * sizeof(Vec3));
    append(bytes, body.mesh.triangles.data(),
           body.mesh.triangles.size() * sizeof(body.mesh.triangles[0]));
    append(bytes, body.mesh.face_of_triangle.data(),
           body.mesh.face_of_triangle.size() * sizeof(std::uint32_t));
  }
  return base64(deflated(bytes));
}

}  // namespace standpoint
