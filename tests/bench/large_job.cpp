#include <charconv>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <string>

#include <nlohmann/json.hpp>

#include "fuselage.h"
#include "stl_file.h"

// Writes a job as large as is asked for, as a scene that `standpoint plan` reads: the fuselage of
// the benchmarks, points on its skin, fixed places round it at two heights, nests on the ground.

namespace standpoint::bench {
namespace {

using Json = nlohmann::ordered_json;

Json place(const Vec3& at) {
  return {at.x(), at.y(), at.z()};
}

Json points_on_skin(std::size_t count) {
  Json features = Json::array();
  for (std::size_t i = 0; i < count; ++i) {
    const double along = 0.02 + 0.96 * static_cast<double>(i) / static_cast<double>(count);
    // Golden-ratio steps cover the skin evenly; the lowest part is left out, no beam gets there.
    const double turn = std::fmod(2.399963 * static_cast<double>(i), 2 * M_PI);
    const SkinPoint skin = skin_point(along, turn);
    if (skin.normal.z() < -0.7) continue;
    features.push_back({{"name", "p" + std::to_string(i)},
                        {"type", "point"},
                        {"at", place(skin.at + 25 * skin.normal)},
                        {"normal", place(skin.normal)}});
  }
  return features;
}

Json places_round(std::size_t count, double floor) {
  Json fixed = Json::array();
  for (std::size_t i = 0; i < count; ++i) {
    const auto step = static_cast<double>(i);
    const double angle = 2.399963 * step;
    const double radius = 1.2 + 0.8 * std::sqrt(step / static_cast<double>(count));
    const SkinPoint middle = skin_point(0.5, 0);
    const Vec3 at(middle.at.x() + 10000 * radius * std::cos(angle), 6000 * radius * std::sin(angle),
                  floor + (i % 2 == 0 ? 1300 : 4000));
    fixed.push_back({{"name", "at " + std::to_string(i)}, {"at", place(at)}});
  }
  return fixed;
}

Json nests_on_ground(double floor) {
  Json nests = Json::array();
  for (int i = 0; i < 16; ++i) {
    const double angle = 2 * M_PI * i / 16;
    const Vec3 at(skin_point(0.5, 0).at.x() + 11000 * std::cos(angle), 4500 * std::sin(angle),
                  floor + (i % 2 == 0 ? 300 : 900));
    nests.push_back({{"name", "N" + std::to_string(i + 1)},
                     {"at", place(at)},
                     {"normal", {0, 0, 1}},
                     {"seat", 45}});
  }
  return nests;
}

Json instrument() {
  return {{"name", "invented instrument"},
          {"beam", {{"diameter", 6}, {"growth_mrad", 0.2}}},
          {"range", {400, 40000}},
          {"elevation", {-60, 75}},
          {"body", {{"radius", 160}, {"above", 180}, {"below", 320}}},
          {"error",
           {{"coverage_factor", 2},
            {"transverse", {{"fixed", 0.014}, {"per_metre", 0.0075}}},
            {"radial", {{"fixed", 0.012}, {"per_metre", 0.0009}}}}}};
}

void write_job(std::size_t triangles, std::size_t stations, std::size_t points,
               const std::filesystem::path& folder) {
  std::filesystem::create_directories(folder);
  const std::vector<Mesh> bodies = make_fuselage(triangles);
  double floor = 0;
  for (const Vec3& v : bodies.front().vertices) floor = std::min(floor, v.z());
  floor -= 1500;
  write_stl({bodies[0]}, folder / "skin.stl");
  write_stl({bodies[1]}, folder / "boxes.stl");
  Json scene = {
      {"format", "standpoint-scene"}, {"version", 1}, {"name", "large job"}, {"units", "mm"}};
  scene["bodies"] = {
      {{"name", "skin"}, {"role", "part"}, {"mesh", "skin.stl"}, {"mesh_units", "mm"}},
      {{"name", "boxes"}, {"role", "fixture"}, {"mesh", "boxes.stl"}, {"mesh_units", "mm"}}};
  scene["instrument"] = instrument();
  scene["full_targets"] = {
      {{"name", "ball-38"}, {"diameter", 38.1}, {"acceptance", 50}, {"aperture", 42}}};
  scene["features"] = points_on_skin(points);
  scene["nests"] = nests_on_ground(floor);
  scene["stations"] = {{"fixed", places_round(stations, floor)}};
  std::ofstream out(folder / "scene.json");
  out << scene.dump(1) << '\n';
  if (!out.flush()) throw std::runtime_error("cannot write " + (folder / "scene.json").string());
}

std::size_t number(const char* text) {
  std::size_t value = 0;
  const char* end = text + std::char_traits<char>::length(text);
  const auto [stop, error] = std::from_chars(text, end, value);
  if (error != std::errc() || stop != end || value == 0)
    throw std::runtime_error(std::string(text) + ": a whole number above 0 is wanted");
  return value;
}

}  // namespace
}  // namespace standpoint::bench

int main(int argc, char** argv) {
  try {
    if (argc != 5) throw std::runtime_error("usage: large_job TRIANGLES STATIONS POINTS FOLDER");
    using standpoint::bench::number;
    standpoint::bench::write_job(number(argv[1]), number(argv[2]), number(argv[3]), argv[4]);
  } catch (const std::exception& problem) {
    std::cerr << problem.what() << '\n';
    return 2;
  }
  return 0;
}
