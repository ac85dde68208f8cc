#include "io/use/start_words.h"

#include <cmath>

#include <fmt/format.h>

#include "io/words/words.h"

namespace standpoint {
namespace {

std::string size_words(const PlacedBox& box) {
  const Vec3 size = box.high - box.low;
  return fmt::format("{:.0f} x {:.0f} x {:.0f} mm", size.x(), size.y(), size.z());
}

std::string area_words(double mm2) {
  constexpr double kMm2PerM2 = 1e6;
  return mm2 < 0.01 * kMm2PerM2 ? fmt::format("{:.0f} mm2", mm2)
                                : fmt::format("{:.3g} m2", mm2 / kMm2PerM2);
}

std::string footing_words(const Footing& footing) {
  switch (footing.why) {
    case Footing::Why::own_up:
      return fmt::format("The +Z of its file is up: so the part stands on a flat area of {}.",
                         area_words(footing.flat_area));
    case Footing::Why::largest_flat:
      return fmt::format(
          "The part would not stand well with the +Z of its file up. Down is the largest flat area "
          "that it can stand on, {}.",
          area_words(footing.flat_area));
    case Footing::Why::nothing_flat:
      return "The part has nothing flat to stand on. The +Z of its file is up.";
  }
  return "";
}

StartGuess footing_guess(const StartScene& scene) {
  return {
      "/frames/0",
      fmt::format("{} It stands on the floor, height 0, with its middle at x = y = 0, and is {}.",
                  footing_words(scene.footing), size_words(scene.footing.box)),
      "rotate_xyz_deg turns the part, about x first; translate shifts it. On stands 600 mm "
      "high, add 600 to the third number of translate."};
}

std::string heights_words(const std::vector<double>& heights) {
  std::vector<std::string> words;
  words.reserve(heights.size());
  for (const double height : heights) words.push_back(fmt::format("{:.0f}", height));
  return list_of(words);
}

StartGuess zones_guess(const StartScene& scene) {
  const Layout& layout = scene.layout;
  const Rectangle &south = layout.aisles[0], &east = layout.aisles[3];
  return {
      "/stations/zones/0",
      fmt::format("The instrument may stand in an aisle on each side, {:.0f} mm wide and {:.0f} "
                  "mm from the part, at the heights {} mm: {} places, {:.0f} mm apart.",
                  south.high.y() - south.low.y(), east.low.x() - scene.footing.box.high.x(),
                  heights_words(layout.heights), count_places(layout), layout.spacing),
      "polygon is the floor that you have; heights are those of your stands; a smaller spacing "
      "finds better places and takes longer."};
}

void add_left_out(const std::vector<std::string>& names, const char* why, std::string& what) {
  if (names.empty()) return;
  what += fmt::format(" Left out, {}: {}.", why, list_of(names));
}

StartGuess features_guess(const StartScene& scene, const StartFeatures& features) {
  std::string what = fmt::format("{} found on the part, all required.",
                                 counted(features.taken.size(), "feature was", "features were"));
  if (features.turned > 0)
    what += fmt::format(" {} from above.", counted(features.turned, "through hole or slot is taken",
                                                   "through holes and slots are taken"));
  add_left_out(features.on_floor, "since the part stands on them", what);
  add_left_out(features.no_place, "since they are too small or too narrow for three touches", what);
  return {"/feature_lists/0", std::move(what),
          fmt::format("{} is a table: delete rows that you do not measure, or make one with the "
                      "column required and no in it; add tolerances.",
                      scene.feature_list)};
}

void add_hall(const StartScene& scene, std::vector<StartGuess>& guesses) {
  if (!scene.hall) return;
  std::vector<std::string> theirs;
  if (!scene.has_floor) theirs.emplace_back("the floor and what stands on it");
  if (!scene.has_instrument) theirs.emplace_back("the instrument");
  if (!scene.has_targets) theirs.emplace_back("the targets");
  if (!scene.has_nest_sites) theirs.emplace_back("the nests");
  if (!scene.has_zones) theirs.emplace_back("the places for the instrument");
  guesses.push_back(
      {"/include",
       theirs.empty()
           ? "The hall file is taken as it is."
           : fmt::format("The hall file is taken as it is, and {} with it.", list_of(theirs)),
       "the part stands at x = y = 0 of the hall: shift it with translate of the frame."});
}

}  // namespace

std::vector<StartGuess> start_guesses(const StartScene& scene, const StartFeatures* features) {
  std::vector<StartGuess> guesses;
  add_hall(scene, guesses);
  guesses.push_back(footing_guess(scene));
  for (const std::size_t part : scene.unit_guessed)
    guesses.push_back({fmt::format("/bodies/{}", part),
                       "Its file states no unit: its numbers are taken as mm.",
                       "\"mesh_units\": \"in\", say, in this line states another."});
  if (scene.has_floor)
    guesses.push_back({fmt::format("/bodies/{}", scene.parts.size()),
                       fmt::format("A floor of {:.0f} x {:.0f} mm, and nothing else in the hall.",
                                   scene.layout.floor_size.x(), scene.layout.floor_size.y()),
                       "add columns, walls and fences as bodies: \"box\" and \"cylinder\" need no "
                       "mesh."});
  if (scene.has_instrument)
    guesses.push_back({"/instrument",
                       "The instrument's figures are invented; no real one has them.",
                       "put in those of your instrument."});
  if (scene.has_targets)
    guesses.push_back({"/full_targets",
                       "Balls of the usual sizes and two offset styli; their figures are invented.",
                       "delete what you do not have, put in the figures of what you have."});
  if (scene.has_nest_sites)
    guesses.push_back({"/nest_sites",
                       fmt::format("{} places for nests: on the floor before each side, on posts "
                                   "beyond each corner. plan uses no sites.",
                                   scene.layout.nest_sites.size()),
                       "standpoint nests chooses among them; where you have nests, write nests in "
                       "place of nest_sites and put in their places."});
  if (scene.has_zones) guesses.push_back(zones_guess(scene));
  if (features != nullptr) {
    guesses.push_back(features_guess(scene, *features));
  } else {
    guesses.push_back({"/feature_lists/0",
                       "The list's places are taken in the frame of the part's file; in mm, where "
                       "the list states no unit.",
                       "without frame they are places in the scene; units states another unit."});
  }
  return guesses;
}

}  // namespace standpoint
