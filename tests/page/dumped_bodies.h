#pragma once

#include <cstring>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "io/read/scene/parse_scene.h"

// Bodies as the program read them, for the planner in WebAssembly, which has no reader of CAD
// files: one after another in the order in which the scene asks for them, each with the request it
// answers. Bytes of this machine; both sides are little-endian.

namespace standpoint::test {

template <class T>
void put(std::string& out, const T& value) {
  static_assert(std::is_trivially_copyable_v<T>);
  out.append(reinterpret_cast<const char*>(&value), sizeof value);
}

/// Elements of plain numbers: `Element` is one of them or a fixed number of them in a row.
template <class Element>
void put_all(std::string& out, const std::vector<Element>& values) {
  put(out, static_cast<std::uint32_t>(values.size()));
  out.append(reinterpret_cast<const char*>(values.data()), values.size() * sizeof(Element));
}

/// What is asked of a body's place in the hall: the bits of pose, unit and chord.
inline std::string request_bits(const BodyRequest& request) {
  std::string bits;
  const Mat3 turn = request.world_from_body.linear();
  const Vec3 shift = request.world_from_body.translation();
  for (Eigen::Index i = 0; i < 9; ++i) put(bits, turn(i % 3, i / 3));
  for (Eigen::Index i = 0; i < 3; ++i) put(bits, shift[i]);
  put(bits, request.mm_per_unit.value_or(0));
  put(bits, request.default_mm_per_unit);
  put(bits, request.chord_tolerance);
  return bits;
}

inline void put_body(std::string& out, const BodyRequest& request, const ReadBody& body) {
  out += request_bits(request);
  put_all(out, body.mesh.vertices);
  put_all(out, body.mesh.triangles);
  put_all(out, body.mesh.face_of_triangle);
  put(out, static_cast<std::uint32_t>(body.mesh.face_names.size()));
  for (const std::string& name : body.mesh.face_names)
    put_all(out, std::vector<char>(name.begin(), name.end()));
  for (Eigen::Index i = 0; i < 9; ++i) put(out, body.placement.turn(i % 3, i / 3));
  for (Eigen::Index i = 0; i < 3; ++i) put(out, body.placement.shift[i]);
  put(out, body.placement.mm_per_coordinate);
}

/// Gives the bodies back, one a request.
class DumpedBodies {
 public:
  /// `bytes` must outlive this.
  explicit DumpedBodies(std::string_view bytes) : left_(bytes) {}

  /// The next body, or why it does not answer `request`.
  tl::expected<ReadBody, std::string> next(const BodyRequest& request) {
    const std::string asked = request_bits(request);
    if (take(asked.size()) != asked)
      return tl::unexpected<std::string>("a body that the program placed or scaled otherwise");
    ReadBody body;
    get_all(body.mesh.vertices);
    get_all(body.mesh.triangles);
    get_all(body.mesh.face_of_triangle);
    for (auto names = get<std::uint32_t>(); names > 0; --names) {
      std::vector<char> name;
      get_all(name);
      body.mesh.face_names.emplace_back(name.begin(), name.end());
    }
    for (Eigen::Index i = 0; i < 9; ++i) body.placement.turn(i % 3, i / 3) = get<double>();
    for (Eigen::Index i = 0; i < 3; ++i) body.placement.shift[i] = get<double>();
    body.placement.mm_per_coordinate = get<double>();
    return body;
  }

 private:
  std::string_view take(std::size_t count) {
    if (left_.size() < count) throw std::runtime_error("the dumped bodies end too early");
    const std::string_view taken = left_.substr(0, count);
    left_.remove_prefix(count);
    return taken;
  }
  template <class T>
  T get() {
    T value;
    std::memcpy(&value, take(sizeof value).data(), sizeof value);
    return value;
  }
  template <class Element>
  void get_all(std::vector<Element>& values) {
    values.resize(get<std::uint32_t>());
    const std::string_view bytes = take(values.size() * sizeof(Element));
    std::memcpy(static_cast<void*>(values.data()), bytes.data(), bytes.size());
  }

  std::string_view left_;
};

}  // namespace standpoint::test
