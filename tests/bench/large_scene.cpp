// A large scene as files, for measuring the page (docs/page-engine.md):
//   large_scene TRIANGLES FEATURES DIR
// writes DIR/skin.stl and, with full targets only or with two styli as well, DIR/full.json and
// DIR/styli.json: points on the fuselage's skin, half of them sunk among the jigs round it.

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <numbers>

#include <fmt/format.h>

#include "tests/bench/fuselage.h"
#include "tests/bench/stl_file.h"

namespace standpoint::bench {
namespace {

std::string features(int count) {
  std::string list;
  for (int i = 0; i < count; ++i) {
    // The skin's bumps are some millimetres: 12 mm off the smooth skin a ball mostly fits.
    const double turn = 2 * std::numbers::pi * std::fmod(0.618034 * i, 1);
    const SkinPoint p = skin_point((i + 0.5) / count, turn);
    const Vec3 at = p.at + 12 * p.normal;
    list += fmt::format(
        "{}{{\"name\": \"p{}\", \"type\": \"point\", \"at\": [{}, {}, {}], \"normal\": [{}, {}, "
        "{}]}}",
        i == 0 ? "" : ",\n", i, at.x(), at.y(), at.z(), p.normal.x(), p.normal.y(), p.normal.z());
  }
  return list;
}

void write_scene(const std::string& file, const std::string& list, bool has_styli) {
  const char* styli =
      "{\"name\": \"mirror\", \"kind\": \"mirror\", \"tip_diameter\": 6, \"length\": 85,"
      " \"shank_diameter\": 4, \"head_diameter\": 46, \"swing\": 11},\n"
      "{\"name\": \"rod\", \"kind\": \"two-ball\", \"tip_diameter\": 6,"
      " \"ball_distances\": [150, 350], \"ball_diameter\": 12.7, \"shank_diameter\": 8,"
      " \"acceptance\": 30}";
  std::ofstream(file) << fmt::format(
      "{{\"format\": \"standpoint-scene\", \"version\": 1, \"name\": \"fuselage\", \"units\": "
      "\"mm\",\n"
      "\"bodies\": [{{\"name\": \"skin\", \"role\": \"part\", \"mesh\": \"skin.stl\"}}],\n"
      "\"instrument\": {{\"name\": \"invented\", \"beam\": {{\"diameter\": 6, \"growth_mrad\": "
      "0.2}},\n"
      "\"range\": [400, 40000], \"elevation\": [-60, 75],\n"
      "\"body\": {{\"radius\": 160, \"above\": 180, \"below\": 320}}}},\n"
      "\"full_targets\": [{{\"name\": \"ball\", \"diameter\": 38.1, \"acceptance\": 30, "
      "\"aperture\": 42}}],\n\"offset_styli\": [{}],\n\"features\": [{}],\n"
      "\"stations\": {{\"fixed\": [{{\"name\": \"one\", \"at\": [3000, -7000, 1500]}},\n"
      "{{\"name\": \"two\", \"at\": [12000, 7000, 2500]}}]}}}}\n",
      has_styli ? styli : "", list);
}

}  // namespace
}  // namespace standpoint::bench

int main(int argc, char** argv) {
  using namespace standpoint::bench;
  if (argc != 4) return 2;
  const std::string folder = argv[3];
  write_stl(make_fuselage(static_cast<std::size_t>(std::atoll(argv[1]))), folder + "/skin.stl");
  const std::string list = features(std::atoi(argv[2]));
  write_scene(folder + "/full.json", list, false);
  write_scene(folder + "/styli.json", list, true);
}
