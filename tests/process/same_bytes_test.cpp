// The same scene gives the same files, to the byte, at any number of threads: each plan by a
// process of its own, since what one process keeps in memory could hide that the order of its
// threads counts.

#include <array>
#include <fstream>

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "process.h"
#include "source_dir.h"

namespace standpoint::process {
namespace {

constexpr std::array kFiles = {"plan.json", "stations.csv", "touches.csv", "page.html"};

/// Plans a scene once for each number of threads and holds all files against the first. Returns the
/// plan.
nlohmann::json expect_same_bytes(const std::filesystem::path& scene) {
  const Folder folder;
  std::string first_plan;
  for (const char* threads : {"1", "2", "8"}) {
    const auto out = folder.path() / threads;
    Process program({"plan", scene.string(), "-o", out.string(), "--threads", threads});
    const auto status = program.wait();
    EXPECT_TRUE(status && *status <= 1) << program.shown();
    for (const char* file : kFiles) {
      const std::string bytes = bytes_of(out / file);
      EXPECT_GT(bytes.size(), 100u) << file;
      // Not EXPECT_EQ: it would print both files.
      EXPECT_TRUE(bytes == bytes_of(folder.path() / "1" / file))
          << file << " of " << threads << " threads is not that of one";
    }
  }
  return nlohmann::json::parse(bytes_of(folder.path() / "1" / "plan.json"));
}

TEST(SameBytes, OfTheDemoAtAnyNumberOfThreads) {
  const auto plan = expect_same_bytes(source_dir() / "scenes" / "demo" / "scene.json");
  EXPECT_EQ(plan["stations"].size(), 3u);
}

/// A hall with a wall across, in whose two halves points look every way: dozens of places see much
/// the same, so that the choice among equals is what the order of threads could change.
nlohmann::json hall() {
  nlohmann::json scene = {
      {"format", "standpoint-scene"},
      {"version", 1},
      {"name", "hall"},
      {"units", "mm"},
      {"bodies",
       {{{"name", "wall"}, {"role", "surroundings"}, {"mesh", "wall.obj"}, {"mesh_units", "mm"}}}},
      {"instrument",
       {{"name", "invented"},
        {"beam", {{"diameter", 6}, {"growth_mrad", 0.2}}},
        {"range", {300, 60000}},
        {"elevation", {-60, 75}}}},
      {"full_targets",
       {{{"name", "ball"}, {"diameter", 38.1}, {"acceptance", 30}, {"aperture", 42}}}},
      {"stations",
       {{"zones",
         {{{"name", "floor"},
           {"polygon", {{-4000, -3000}, {4000, -3000}, {4000, 3000}, {-4000, 3000}}},
           {"heights", {1200, 1700}},
           {"spacing", 1000}}}}}}};
  for (int i = 0; i < 12; ++i) {
    const double x = -3850 + 700 * i;
    scene["features"].push_back({{"name", "south-" + std::to_string(i)},
                                 {"type", "point"},
                                 {"at", {x, -3400, 900 + 40 * i}},
                                 {"normal", {0, 1, 0}}});
    scene["features"].push_back({{"name", "north-" + std::to_string(i)},
                                 {"type", "point"},
                                 {"at", {x, 3400, 1500 - 30 * i}},
                                 {"normal", {0, -1, 0}}});
  }
  for (int i = 0; i < 5; ++i) {
    scene["nests"].push_back({{"name", "N" + std::to_string(i)},
                              {"at", {-3000 + 1500 * i, i % 2 == 0 ? 400 : -400, 2600}},
                              {"normal", {0, 0, -1}},
                              {"seat", 45}});
  }
  return scene;
}

/// As long as the hall, 2 m high: no place sees both halves, and the nests are seen over it.
constexpr const char* kWall =
    "v -4200 -50 0\nv 4200 -50 0\nv 4200 50 0\nv -4200 50 0\n"
    "v -4200 -50 2000\nv 4200 -50 2000\nv 4200 50 2000\nv -4200 50 2000\n"
    "f 1 3 2\nf 1 4 3\nf 5 6 7\nf 5 7 8\nf 1 2 6\nf 1 6 5\nf 2 3 7\nf 2 7 6\n"
    "f 3 4 8\nf 3 8 7\nf 4 1 5\nf 4 5 8\n";

TEST(SameBytes, OfAHallWithDozensOfPlacesAtAnyNumberOfThreads) {
  const Folder folder;
  std::ofstream(folder.path() / "wall.obj") << kWall;
  std::ofstream(folder.path() / "scene.json") << hall().dump();
  const auto plan = expect_same_bytes(folder.path() / "scene.json");
  EXPECT_GE(plan["candidates"]["tried"], 48);
  EXPECT_GE(plan["stations"].size(), 2u);
  int reached = 0;
  for (const auto& feature : plan["features"]) reached += feature["verdict"] != "blocked";
  EXPECT_GE(reached, 20);
}

}  // namespace
}  // namespace standpoint::process
