#include "io/words/motion_words.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "io/words/lengths.h"
#include "io/words/names.h"
#include "io/words/tolerances.h"
#include "io/words/words.h"
#include "planner/network/alignment.h"

namespace standpoint {
namespace {

std::string direction_words(const Vec3& direction) {
  constexpr std::array<const char*, 3> kAxes{"x", "y", "z"};
  for (int axis = 0; axis < 3; ++axis)
    if (1 - std::abs(direction[axis]) < tolerance::kSameAxis)
      return kAxes[static_cast<std::size_t>(axis)];
  return fmt::format("({}, {}, {})", fixed_text(direction.x(), 3), fixed_text(direction.y(), 3),
                     fixed_text(direction.z(), 3));
}

}  // namespace

std::string motion_words(const Scene& scene, const Motion& motion) {
  if (!motion.turns) return "shift along " + direction_words(motion.direction);
  std::string words = fmt::format("turn about {} through ({})", direction_words(motion.direction),
                                  place_text(scene, motion.through, step::kPlace));
  const double rise = std::abs(motion.rise) * 2 * std::numbers::pi;
  if (rise > tolerance::kNoRise)
    words += fmt::format(", rising {} a turn", length_with_unit(scene, rise, step::kPlace));
  return words;
}

std::string motions_words(const Scene& scene, const std::vector<Motion>& motions) {
  std::vector<std::string> each;
  each.reserve(motions.size());
  for (const Motion& motion : motions) each.push_back(motion_words(scene, motion));
  return list_of(each);
}

std::string holding_words(const Scene& scene, const std::vector<Motion>& motions,
                          const std::vector<FeatureId>& aligned) {
  constexpr std::size_t kNamed = 2;  // for each motion
  std::vector<std::string> names;
  for (const Motion& motion : motions) {
    for (const Hold& hold : features_that_hold(scene, motion, aligned, kNamed)) {
      const std::string& name = scene.features[hold.feature.index].name;
      if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
    }
  }
  std::string words;
  for (std::size_t i = 0; i < names.size(); ++i)
    words += (i == 0 ? "" : i + 1 == names.size() ? " or " : ", ") + names[i];
  return words;
}

std::string alignment_sentence(const Scene& scene, const Plan& plan) {
  if (plan.alignment.features.empty())
    return "The part's frame is not held: the stations reach no features that hold it together.";
  std::vector<std::string> stations;
  for (const StationId station : aligning_stations(plan))
    stations.push_back(plan.stations[station.index].name);
  std::string words = fmt::format("The part's frame is held by {}",
                                  list_of(feature_names(scene, plan.alignment.features)));
  if (!stations.empty()) words += ", from " + list_of(stations);
  words += ".";
  if (const auto least = least_held(scene, plan))
    words += fmt::format(" It is known least in a {}: {} (k = 2) at {}.",
                         motion_words(scene, least->motion),
                         length_with_unit(scene, least->expanded, step::kUncertainty),
                         scene.features[least->feature.index].name);
  return words;
}

}  // namespace standpoint
