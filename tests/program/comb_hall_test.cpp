// Chvatal's comb (J. Comb. Theory B 18, 1975, 39-41): a room of n = 3k walls in which no place sees
// two of the k prong tips, so that k places are needed; here a hall of that plan, with a feature in
// each tip.

#include <gtest/gtest.h>

#include <sstream>

#include "run_program.h"

namespace standpoint::program {
namespace {

/// Prong i has its tip at (2i + 0.5, 0) and its mouth from (2i, 4) to (2i + 1, 4); above the mouths
/// runs an aisle 0.5 deep. m.
struct Comb {
  int prongs;

  [[nodiscard]] std::vector<std::pair<double, double>> corners() const {
    std::vector<std::pair<double, double>> all;
    for (int i = 0; i < prongs; ++i) {
      all.emplace_back(2 * i, 4);
      all.emplace_back(2 * i + 0.5, 0);
      all.emplace_back(2 * i + 1, 4);
    }
    // The first and the last corner stand at the aisle's far wall, so that walls are 3 k.
    all.front().second = 4.5;
    all.back().second = 4.5;
    return all;
  }

  /// Walls 3 m high, as a Wavefront mesh in metres.
  [[nodiscard]] std::string mesh() const {
    std::ostringstream text;
    const auto all = corners();
    for (const auto& [x, y] : all)
      text << "v " << x << ' ' << y << " 0\nv " << x << ' ' << y << " 3\n";
    const std::size_t n = all.size();
    for (std::size_t i = 0; i < n; ++i) {
      const std::size_t a = 2 * i + 1, b = 2 * ((i + 1) % n) + 1;
      text << "f " << a << ' ' << b << ' ' << b + 1 << ' ' << a + 1 << '\n';
    }
    return text.str();
  }

  [[nodiscard]] std::string scene() const {
    nlohmann::json scene = {
        {"format", "standpoint-scene"},
        {"version", 1},
        {"name", "comb"},
        {"units", "m"},
        {"bodies",
         {{{"name", "hall"}, {"role", "surroundings"}, {"mesh", "hall.obj"}, {"mesh_units", "m"}}}},
        {"instrument",
         {{"name", "invented"},
          {"beam", {{"diameter", 0.006}, {"growth_mrad", 0.2}}},
          {"range", {0.3, 60}},
          {"elevation", {-60, 75}}}},
        {"full_targets",
         {{{"name", "ball"}, {"diameter", 0.0381}, {"acceptance", 30}, {"aperture", 42}}}}};
    for (int i = 0; i < prongs; ++i) {
      const double x = 2 * i + 0.5;
      scene["features"].push_back({{"name", "tip-" + std::to_string(i)},
                                   {"type", "point"},
                                   {"at", {x, 0.35, 1.2}},
                                   {"normal", {0, 1, 0}}});
      scene["stations"]["fixed"].push_back(
          {{"name", "mouth-" + std::to_string(i)}, {"at", {x, 4.1, 1.4}}});
      if (i + 1 < prongs) {
        scene["stations"]["fixed"].push_back(
            {{"name", "between-" + std::to_string(i)}, {"at", {x + 1, 4.2, 1.4}}});
      }
    }
    return scene.dump();
  }
};

class CombHall : public testing::TestWithParam<int> {};

TEST_P(CombHall, NeedsAsManyStationsAsProngs) {
  const Comb comb{GetParam()};
  const Folder folder;
  write_text(folder.path() / "hall.obj", comb.mesh());
  write_text(folder.path() / "scene.json", comb.scene());
  const Outcome outcome = run_program({"plan", (folder.path() / "scene.json").string(), "-o",
                                       (folder.path() / "out").string(), "--json"});
  ASSERT_EQ(outcome.exit, 0) << outcome.err << outcome.out;
  const auto plan = read_json(folder.path() / "out" / "plan.json");
  EXPECT_EQ(plan["optimality"]["stations"], comb.prongs);
  EXPECT_EQ(plan["optimality"]["lower_bound"], comb.prongs);
  EXPECT_EQ(plan["optimality"]["status"], "optimal");
  for (const auto& feature : plan["features"]) EXPECT_EQ(feature["verdict"], "full-target");
}

INSTANTIATE_TEST_SUITE_P(Prongs, CombHall, testing::Values(2, 3, 7, 20));

}  // namespace
}  // namespace standpoint::program
