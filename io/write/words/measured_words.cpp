#include "io/write/words/measured_words.h"

#include <array>
#include <cmath>
#include <numbers>
#include <ostream>

#include <fmt/format.h>
#include <Eigen/Eigenvalues>

#include "io/words/lengths.h"
#include "io/words/paragraph.h"
#include "io/words/table.h"
#include "io/words/text.h"
#include "io/words/units.h"
#include "io/words/words.h"
#include "io/write/words/part_words.h"
#include "io/write/words/why_words.h"
#include "planner/model/tolerances.h"

namespace standpoint {
namespace {

std::string nest_of(const Scene& scene, const SeenNest& seen) {
  return seen.nest.index < scene.nests.size() ? scene.nests[seen.nest.index].name : "";
}

std::string_view plural_be(std::size_t count) {
  return count == 1 ? "is" : "are";
}

/// `what` has been read: "nests", "readings".
std::string fit_sentence(const RealStation& station, std::string_view what) {
  if (!station.is_tested && station.pose_covariance)
    return "All readings are spent on the pose: nothing checks them, and nothing is tested.";
  if (!station.is_tested)
    return fmt::format(
        "The scene states no error of the instrument, so all {} weigh the same and nothing is "
        "tested.",
        what);
  const std::string figures = fmt::format(
      "chi-square is {} with {} degrees of freedom, and 95 % of sound set-ups stay below {}",
      fixed_text(station.chi_square, 1), station.degrees_of_freedom,
      fixed_text(station.chi_bound, 1));
  if (station.fits)
    return fmt::format("The {} fit as well as the instrument's error lets expect: {}.", what,
                       figures);
  return fmt::format("The {} do not fit as the instrument's error lets expect: {}.", what, figures);
}

std::string suspect_sentence(const Scene& scene, const RealStation& station) {
  const std::size_t count = station.seen.size();
  if (count == 3 && !station.fits)
    return "With three nests none can be left out, so it cannot be told which is off: read a "
           "fourth.";
  if (!station.suspect) {
    return station.fits ? "" : "No single nest stands out; look for several, or for a moved part.";
  }
  const LeaveOneOut& without = station.without[*station.suspect];
  std::string text = fmt::format(
      "Suspect is {}: without it chi-square drops by {}, where the 1 % bound is {}, and the "
      "instrument would stand {} from here.",
      nest_of(scene, station.seen[*station.suspect]), fixed_text(without.drop, 1),
      fixed_text(station.drop_bound, 1),
      length_with_unit(scene, (without.measuring_centre - station.measuring_centre).norm(),
                       step::kUncertainty));
  if (!station.rivals.empty()) {
    std::vector<std::string> names;
    for (const std::size_t i : station.rivals) names.push_back(nest_of(scene, station.seen[i]));
    text += fmt::format(" But {} could be it as well: the others fit without {} too.",
                        list_of(names), names.size() == 1 ? "it" : "any one of them");
  }
  if (count == 4)
    text += " With four nests the three that are left hardly check each other: read a fifth.";
  return text;
}

std::string tilt_sentence(const RealStation& station) {
  if (station.tilt_rad <= tolerance::kUprightTilt) return "";
  const std::string tilt = fixed_text(to_degrees(station.tilt_rad), 1);
  if (station.tilt_rad > std::numbers::pi / 2)
    return fmt::format(
        "By these nests the instrument stands on its head ({} degrees off the scene's vertical). "
        "Nests in one plane look so in a mirrored frame, or with two names exchanged. Elevations "
        "are judged as it stands.",
        tilt);
  return fmt::format(
      "The instrument leans by {} degrees against the scene's vertical; elevations are judged "
      "about "
      "its own axis.",
      tilt);
}

std::string uncertainty_sentence(const Scene& scene, const RealStation& station) {
  if (!station.pose_covariance) return "";
  const Mat3 turn = station.pose_covariance->bottomRightCorner<3, 3>();
  const double expanded =
      point_uncertainty(station.pose_covariance->topLeftCorner<3, 3>()).expanded;
  const double turned = point_uncertainty(turn).expanded;
  return fmt::format(
      "Predicted: the measuring centre is uncertain by {}, its directions by {} microradians (both "
      "expanded, k = 2).",
      length_with_unit(scene, expanded, step::kUncertainty), fixed_text(turned * 1e6, 1));
}

Table residual_table(const Scene& scene, const RealStation& station) {
  const auto title = [&](const char* what) { return fmt::format("{} ({})", what, scene.units); };
  Table table{{{"nest"},
               {title("misfit"), Align::right},
               {title("in x"), Align::right},
               {title("in y"), Align::right},
               {title("in z"), Align::right},
               {"weighted", Align::right},
               {"drop", Align::right}},
              {}};
  for (std::size_t i = 0; i < station.seen.size(); ++i) {
    const Vec3& off = station.residuals[i];
    std::vector<std::string> row{nest_of(scene, station.seen[i]),
                                 length_text(scene, off.norm(), step::kUncertainty)};
    for (int axis = 0; axis < 3; ++axis)
      row.push_back(length_text(scene, off[axis], step::kUncertainty));
    row.push_back(station.is_tested ? fixed_text(station.normalised[i], 1) : "-");
    row.push_back(station.is_tested && station.without[i].is_tried
                      ? fixed_text(station.without[i].drop, 1)
                      : "-");
    table.rows.push_back(std::move(row));
  }
  return table;
}

std::string changes(const Scene& scene, const std::vector<Subject>& subjects,
                    std::string_view what) {
  if (subjects.empty()) return fmt::format("nothing is {}", what);
  std::vector<std::string> names;
  names.reserve(subjects.size());
  for (const Subject& subject : subjects) names.push_back(subject_name(scene, subject));
  return fmt::format("{} {} {}", list_of(names), plural_be(names.size()), what);
}

}  // namespace

std::vector<std::string> set_up_sentences(const Scene& scene, const RealStation& station) {
  std::vector<std::string> sentences;
  for (std::string sentence : {fit_sentence(station, "nests"),
                               station.is_tested ? suspect_sentence(scene, station) : std::string(),
                               tilt_sentence(station), uncertainty_sentence(scene, station)}) {
    if (!sentence.empty()) sentences.push_back(std::move(sentence));
  }
  return sentences;
}

std::string planned_sentence(const Scene& scene, const RealStation& station,
                             const PlannedPlace& planned) {
  return fmt::format(
      "It stands {} from the planned place ({}) {}: {}, {}.",
      length_with_unit(scene, (station.measuring_centre - planned.at).norm(), step::kMargin),
      place_text(scene, planned.at, step::kPlace), scene.units,
      changes(scene, planned.effect.gained, "gained"), changes(scene, planned.effect.lost, "lost"));
}

std::vector<std::string> set_up_sentences(const Scene& scene, const StandingPlace& place) {
  const RealStation& station = *place.measured;
  std::vector<std::string> sentences;
  if (place.part) {
    sentences.push_back(fit_sentence(station, "readings"));
    for (std::string& sentence : finding_sentences(scene, station, *place.part))
      sentences.push_back(std::move(sentence));
    for (std::string sentence : {tilt_sentence(station), uncertainty_sentence(scene, station)})
      if (!sentence.empty()) sentences.push_back(std::move(sentence));
  } else {
    sentences = set_up_sentences(scene, station);
  }
  if (place.movement)
    for (std::string& sentence : movement_sentences(scene, *place.movement))
      sentences.push_back(std::move(sentence));
  return sentences;
}

void print_measured(const Scene& scene, const StandingPlace& place, std::ostream& out) {
  if (!place.measured) return;
  const RealStation& station = *place.measured;
  const std::string by = place.part ? counted(place.part->seen.size(), "reading", "readings")
                                    : counted(station.seen.size(), "nest", "nests");
  out << fmt::format("By {} the instrument stands at ({}) {}\n\n", by,
                     place_text(scene, station.measuring_centre, step::kUncertainty),
                     for_terminal(scene.units));
  if (place.part)
    print_part_rows(scene, *place.part, out);
  else
    print(residual_table(scene, station), out);
  out << '\n';
  for (const std::string& sentence : set_up_sentences(scene, place))
    print_paragraph("  ", sentence, out);
  if (place.planned) print_paragraph("  ", planned_sentence(scene, station, *place.planned), out);
  out << '\n';
}

}  // namespace standpoint
