#include <embree3/rtcore.h>

#include <algorithm>
#include <array>
#include <atomic>
#include <chrono>
#include <cmath>
#include <numbers>
#include <string>

#include "geometry/vec.h"
#include "rivals.h"

namespace standpoint::bench {

struct EmbreeScene::Parts {
  RTCDevice device = nullptr;
  RTCScene scene = nullptr;
  double build_seconds = 0;
  std::atomic<long long> bytes{0};
};

namespace {

bool count_memory(void* user, ssize_t bytes, bool) {
  static_cast<std::atomic<long long>*>(user)->fetch_add(bytes);
  return true;
}

void attach(RTCDevice device, RTCScene scene, const Mesh& mesh) {
  RTCGeometry geometry = rtcNewGeometry(device, RTC_GEOMETRY_TYPE_TRIANGLE);
  auto* vertices = static_cast<float*>(rtcSetNewGeometryBuffer(geometry, RTC_BUFFER_TYPE_VERTEX, 0,
                                                               RTC_FORMAT_FLOAT3, 3 * sizeof(float),
                                                               mesh.vertices.size()));
  for (const Vec3& v : mesh.vertices) {
    for (int axis = 0; axis < 3; ++axis) *vertices++ = static_cast<float>(v[axis]);
  }
  auto* indices = static_cast<std::uint32_t*>(
      rtcSetNewGeometryBuffer(geometry, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT3,
                              3 * sizeof(std::uint32_t), mesh.triangles.size()));
  for (const auto& t : mesh.triangles) {
    for (const std::uint32_t i : t) *indices++ = i;
  }
  rtcCommitGeometry(geometry);
  rtcAttachGeometry(scene, geometry);
  rtcReleaseGeometry(geometry);
}

RTCRay ray_between(const Vec3& from, const Vec3& to) {
  RTCRay ray;
  ray.org_x = static_cast<float>(from.x());
  ray.org_y = static_cast<float>(from.y());
  ray.org_z = static_cast<float>(from.z());
  const Vec3 along = to - from;
  ray.dir_x = static_cast<float>(along.x());
  ray.dir_y = static_cast<float>(along.y());
  ray.dir_z = static_cast<float>(along.z());
  ray.tnear = 0;
  ray.tfar = 1;
  ray.time = 0;
  ray.mask = ~0u;
  ray.id = 0;
  ray.flags = 0;
  return ray;
}

bool is_blocked(RTCScene scene, const Vec3& from, const Vec3& to) {
  RTCIntersectContext context;
  rtcInitIntersectContext(&context);
  RTCRay ray = ray_between(from, to);
  rtcOccluded1(scene, &context, &ray);
  return ray.tfar < 0;
}

}  // namespace

EmbreeScene::EmbreeScene(const std::vector<Mesh>& bodies, int threads)
    : parts_(std::make_unique<Parts>()) {
  const std::string setting = "threads=" + std::to_string(threads) + ",set_affinity=0";
  parts_->device = rtcNewDevice(setting.c_str());
  rtcSetDeviceMemoryMonitorFunction(parts_->device, count_memory, &parts_->bytes);
  parts_->scene = rtcNewScene(parts_->device);
  rtcSetSceneFlags(parts_->scene, RTC_SCENE_FLAG_ROBUST);
  for (const Mesh& mesh : bodies) attach(parts_->device, parts_->scene, mesh);
  const auto before = std::chrono::steady_clock::now();
  rtcCommitScene(parts_->scene);
  parts_->build_seconds =
      std::chrono::duration<double>(std::chrono::steady_clock::now() - before).count();
}

EmbreeScene::~EmbreeScene() {
  rtcReleaseScene(parts_->scene);
  rtcReleaseDevice(parts_->device);
}

bool EmbreeScene::is_axis_blocked(const RoundCone& beam) const {
  return is_blocked(parts_->scene, beam.start, beam.end);
}

std::vector<bool> EmbreeScene::clear_axes_by_stream(std::span<const RoundCone> beams) const {
  RTCIntersectContext context;
  rtcInitIntersectContext(&context);
  context.flags = RTC_INTERSECT_CONTEXT_FLAG_INCOHERENT;
  std::vector<RTCRay> rays;
  rays.reserve(beams.size());
  for (const RoundCone& beam : beams) rays.push_back(ray_between(beam.start, beam.end));
  rtcOccluded1M(parts_->scene, &context, rays.data(), static_cast<unsigned>(rays.size()),
                sizeof(RTCRay));
  std::vector<bool> clear(beams.size());
  for (std::size_t i = 0; i < rays.size(); ++i) clear[i] = !(rays[i].tfar < 0);
  return clear;
}

std::vector<bool> EmbreeScene::clear_axes_by_packets(std::span<const RoundCone> beams) const {
  constexpr std::size_t kRays = 16;
  RTCIntersectContext context;
  rtcInitIntersectContext(&context);
  std::vector<bool> clear(beams.size());
  for (std::size_t first = 0; first < beams.size(); first += kRays) {
    const std::size_t count = std::min(kRays, beams.size() - first);
    alignas(64) int valid[kRays] = {};
    RTCRay16 rays;
    for (std::size_t i = 0; i < count; ++i) {
      const RTCRay ray = ray_between(beams[first + i].start, beams[first + i].end);
      valid[i] = -1;
      rays.org_x[i] = ray.org_x;
      rays.org_y[i] = ray.org_y;
      rays.org_z[i] = ray.org_z;
      rays.dir_x[i] = ray.dir_x;
      rays.dir_y[i] = ray.dir_y;
      rays.dir_z[i] = ray.dir_z;
      rays.tnear[i] = ray.tnear;
      rays.tfar[i] = ray.tfar;
      rays.time[i] = ray.time;
      rays.mask[i] = ray.mask;
      rays.flags[i] = ray.flags;
    }
    rtcOccluded16(valid, parts_->scene, &context, &rays);
    for (std::size_t i = 0; i < count; ++i) clear[first + i] = !(rays.tfar[i] < 0);
  }
  return clear;
}

bool EmbreeScene::is_bundle_blocked(const RoundCone& beam) const {
  if (is_axis_blocked(beam)) return true;
  constexpr int kRays = 16;
  static const auto kTurns = [] {
    std::array<std::pair<double, double>, kRays> turns;
    for (int i = 0; i < kRays; ++i) {
      const double turn = 2 * std::numbers::pi * i / kRays;
      turns[static_cast<std::size_t>(i)] = {std::cos(turn), std::sin(turn)};
    }
    return turns;
  }();
  const Vec3 axis = (beam.end - beam.start).normalized();
  const Vec3 first = any_perpendicular(axis), second = axis.cross(first);
  for (const auto& [c, s] : kTurns) {
    const Vec3 out = c * first + s * second;
    if (is_blocked(parts_->scene, beam.start + beam.start_radius * out,
                   beam.end + beam.end_radius * out)) {
      return true;
    }
  }
  return false;
}

double EmbreeScene::build_seconds() const {
  return parts_->build_seconds;
}

std::size_t EmbreeScene::bytes() const {
  return static_cast<std::size_t>(parts_->bytes.load());
}

}  // namespace standpoint::bench
