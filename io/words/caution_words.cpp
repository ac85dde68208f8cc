#include <algorithm>

#include <fmt/format.h>

#include "io/words/lengths.h"
#include "io/words/stance_words.h"
#include "io/words/words.h"

namespace standpoint {
namespace {

CautionText laser_text() {
  return {"Laser radiation",
          "Do not stare into the beam, and do not look at it through optics. The instrument's "
          "manual states its laser class and what follows from it. Close the shutter while nobody "
          "measures.",
          {}};
}

std::string aim_of(const Scene& scene, const BeamOverWalkway& beam) {
  return beam.feature ? scene.features[beam.feature->index].name
                      : scene.nests[beam.nest->index].name;
}

std::string one_beam(const Scene& scene, const Plan& plan, const BeamOverWalkway& beam) {
  return fmt::format("{} to {} over {}, from ({}) to ({}) {}",
                     plan.stations[beam.station.index].name, aim_of(scene, beam),
                     scene.walkways[beam.walkway].name, place_text(scene, beam.from, step::kPlace),
                     place_text(scene, beam.to, step::kPlace), scene.units);
}

/// "gangway: the beams to pad-1 and N2", a line a walkway; every beam is named.
std::vector<std::string> beams_by_walkway(const Scene& scene, const Cautions& cautions) {
  std::vector<std::string> items;
  for (std::size_t w = 0; w < scene.walkways.size(); ++w) {
    std::vector<std::string> aims;
    for (const BeamOverWalkway& beam : cautions.beams) {
      if (beam.walkway == w) aims.push_back(aim_of(scene, beam));
    }
    if (aims.empty()) continue;
    items.push_back(fmt::format("{}: {} {}", scene.walkways[w].name,
                                aims.size() == 1 ? "the beam to" : "the beams to",
                                fmt::join(aims, ", ")));
  }
  return items;
}

CautionText walkway_text(const Scene& scene, const Plan& plan, const Cautions& cautions,
                         WalkwayDetail detail) {
  CautionText caution{
      "Beams at eye height over walkways",
      fmt::format(
          "These beams cross a walkway between {} and {} above its floor. Close the walkway "
          "while they are in use, or post someone there.",
          length_text(scene, kEyeHeight.low, 100), length_with_unit(scene, kEyeHeight.high, 100)),
      {}};
  if (detail == WalkwayDetail::each_walkway) {
    caution.items = beams_by_walkway(scene, cautions);
    return caution;
  }
  for (const BeamOverWalkway& beam : cautions.beams)
    caution.items.push_back(one_beam(scene, plan, beam));
  return caution;
}

CautionText height_text(const Scene& scene, const Plan& plan, const Cautions& cautions) {
  CautionText caution{
      "Work at height",
      fmt::format("More than {} above the floor. Plan access, guard rails or fall arrest, and what "
                  "could drop on people below.",
                  length_with_unit(scene, kWorkAtHeight, 100)),
      {}};
  const auto above = [&](double height) {
    return length_with_unit(scene, height, 10) + " above the floor";
  };
  for (const StationAtHeight& s : cautions.stations) {
    caution.items.push_back(fmt::format("station {}: measuring centre {}",
                                        plan.stations[s.station.index].name, above(s.height)));
  }
  for (const FeatureAtHeight& f : cautions.features) {
    caution.items.push_back(fmt::format("{}: {}, {}{}", scene.features[f.feature.index].name,
                                        counted(f.touches, "touch", "touches"),
                                        f.touches == 1 ? "" : "up to ", above(f.height)));
  }
  for (const NestAtHeight& n : cautions.nests) {
    caution.items.push_back(
        fmt::format("nest {}: {}", scene.nests[n.nest.index].name, above(n.height)));
  }
  return caution;
}

CautionText stand_text(const Plan& plan) {
  return {"Stands",
          plan.stations.size() == 1
              ? "Secure the stand against tipping and against being knocked, and its cables "
                "against being tripped over."
              : "Secure the stand against tipping and against being knocked at every station, and "
                "its cables against being tripped over. Move it with the instrument off or secured "
                "as its manual says.",
          {}};
}

CautionText not_upright_text(const Plan& plan, const Cautions& cautions) {
  CautionText caution{
      "Instruments that do not stand upright",
      "The stand and its fixing must be made for an instrument that stands so: they must hold it "
      "against tipping, turning and falling, whatever is done at it. The instrument's manual says "
      "in which positions it may be used, and how it is fixed and checked there. What it does not "
      "allow is not done.",
      {}};
  for (const StationId id : cautions.not_upright) {
    const PlannedStation& station = plan.stations[id.index];
    caution.items.push_back(
        fmt::format("station {}: {}", station.name, stance_with_head(station.up)));
  }
  return caution;
}

CautionText hand_held_text(const Scene& scene, const Cautions& cautions) {
  std::vector<std::string> names;
  for (const FeatureId id : cautions.by_hand_held) names.push_back(scene.features[id.index].name);
  return {
      "Hand-held devices",
      fmt::format("An offset stylus is used at {}. Tether it wherever it could fall on a person "
                  "or into the part, and keep hands clear of pinch points while reaching in.",
                  list_of(names)),
      {}};
}

CautionText machinery_text() {
  return {
      "Machinery and lifting gear",
      "Lock out machinery that could move, and keep cranes and other lifting gear away from the "
      "part, the stand and the beams while people measure.",
      {}};
}

}  // namespace

std::vector<CautionText> caution_texts(const Scene& scene, const Plan& plan,
                                       const Cautions& cautions, WalkwayDetail detail) {
  std::vector<CautionText> texts{laser_text()};
  if (!cautions.beams.empty()) texts.push_back(walkway_text(scene, plan, cautions, detail));
  if (!cautions.stations.empty() || !cautions.features.empty() || !cautions.nests.empty())
    texts.push_back(height_text(scene, plan, cautions));
  texts.push_back(stand_text(plan));
  if (!cautions.not_upright.empty()) texts.push_back(not_upright_text(plan, cautions));
  if (!cautions.by_hand_held.empty()) texts.push_back(hand_held_text(scene, cautions));
  texts.push_back(machinery_text());
  return texts;
}

std::vector<std::string> field_check_steps(const Scene& scene, const Plan& plan) {
  std::vector<std::string> steps{
      "Check that the part, fixtures and surroundings stand as the scene has them: what is not in "
      "the scene can still break a beam.",
      "Set up each station, let the instrument warm up as its manual says, and do its two-face "
      "check."};
  if (!scene.nests.empty() && plan.stations.size() > 1) {
    steps.emplace_back(
        "Measure every listed nest from each station first. Compare the misfits at the nests with "
        "the predicted uncertainty before going on.");
  } else if (!scene.nests.empty()) {
    steps.emplace_back("Measure the listed nests first and again at the end, to see drift.");
  }
  steps.emplace_back(
      "Try the tightest beams of the table first. Where one is broken, move the stand a little; "
      "where that does not help, plan again.");
  return steps;
}

std::string_view deference() {
  return "These cautions are computed from the scene and are not complete. Local codes, the "
         "instrument's manual and licensed practice come first.";
}

}  // namespace standpoint
