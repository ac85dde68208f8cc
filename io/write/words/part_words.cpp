#include "io/write/words/part_words.h"

#include <ostream>

#include <fmt/format.h>

#include "io/words/lengths.h"
#include "io/words/table.h"
#include "io/words/words.h"

namespace standpoint {
namespace {

std::string fine(const Scene& scene, double mm) {
  return length_with_unit(scene, mm, step::kUncertainty);
}

std::string name_of_row(const Scene& scene, const SeenRow& seen) {
  if (seen.nest) return scene.nests[seen.nest->index].name;
  const std::string& name = scene.features[seen.feature.index].name;
  return seen.touch ? fmt::format("{} touch {}", name, *seen.touch + 1) : name;
}

/// "Reading 7", "Readings 7 to 12", "Readings 2, 5 and 9".
std::string readings(const std::vector<std::size_t>& rows) {
  if (rows.size() == 1) return fmt::format("Reading {}", rows.front() + 1);
  if (rows.back() - rows.front() + 1 == rows.size())
    return fmt::format("Readings {} to {}", rows.front() + 1, rows.back() + 1);
  std::vector<std::string> numbers;
  for (const std::size_t row : rows) numbers.push_back(std::to_string(row + 1));
  return "Readings " + list_of(numbers);
}

std::string significance(const PartFinding& found) {
  return fmt::format("chi-square drops by {}, where the 1 % bound is {}", fixed_text(found.drop, 1),
                     fixed_text(found.bound, 1));
}

std::string effect(const Scene& scene, const PartStation& part, const PartFinding& found) {
  return fmt::format(
      "It shifts the measuring centre by {}, and {} by {}.", fine(scene, found.shift_of_centre),
      name_of_row(scene, part.seen[found.shifted_row]), fine(scene, found.shift_of_touch));
}

std::string blunder_sentence(const Scene& scene, const PartStation& part,
                             const PartFinding& found) {
  const std::size_t row = found.rows.front();
  return fmt::format("Reading {} ({}) is off by {}: {}. {}", row + 1,
                     name_of_row(scene, part.seen[row]), fine(scene, found.off),
                     significance(found), effect(scene, part, found));
}

std::string target_sentence(const Scene& scene, const PartStation& part, const PartFinding& found) {
  const double told = touching_radius(scene, found.told);
  std::string text = fmt::format(
      "{} {} with {} instead of {}: {} was called out, {} was used ({}{}).", readings(found.rows),
      found.rows.size() == 1 ? "fits" : "fit", fine(scene, touching_radius(scene, *found.used)),
      fine(scene, told), target_name(scene, found.told), target_name(scene, *found.used),
      found.is_all ? "all of that target; " : "", significance(found));
  if (!found.also.empty()) {
    std::vector<std::string> names;
    for (const TargetId also : found.also) names.push_back(target_name(scene, also));
    text += fmt::format(" {} could be it as well.", list_of(names));
  }
  return text + " " + effect(scene, part, found);
}

std::string offset_sentence(const Scene& scene, const PartStation& part, const PartFinding& found) {
  return fmt::format(
      "{} are off the surface by the same {} (standard uncertainty {}; {}{}). No target of the "
      "scene "
      "has that radius: think of the part's form, a coat or a chip, or of a target that the scene "
      "does not list. {}",
      readings(found.rows), fine(scene, found.off), fine(scene, found.standard),
      found.is_all ? "all of that target; " : "", significance(found), effect(scene, part, found));
}

}  // namespace

std::vector<std::string> finding_sentences(const Scene& scene, const RealStation& station,
                                           const PartStation& part) {
  std::vector<std::string> sentences;
  for (const PartFinding& found : part.findings) {
    switch (found.kind) {
      case FindingKind::blunder:
        sentences.push_back(blunder_sentence(scene, part, found));
        break;
      case FindingKind::wrong_target:
        sentences.push_back(target_sentence(scene, part, found));
        break;
      case FindingKind::offset:
        sentences.push_back(offset_sentence(scene, part, found));
        break;
    }
  }
  if (!part.corrected) {
    if (part.is_tested && !station.fits)
      sentences.emplace_back(
          "No single reading and no target stands out; look for several, or for a part that is not "
          "as the drawing has it.");
    return sentences;
  }
  const Vec3 shift = part.corrected->translation() - station.measuring_centre;
  std::string rest = "What is left cannot be tested.";
  if (part.corrected_freedoms > 0) {
    const bool fits = part.corrected_chi_square <= part.corrected_bound;
    rest = fmt::format(
        "The rest then {} (chi-square {}, bound {}).", fits ? "fits" : "still does not fit",
        fixed_text(part.corrected_chi_square, 1), fixed_text(part.corrected_bound, 1));
  }
  sentences.push_back(
      fmt::format("The place told here is by all readings as they were told. With {} set right the "
                  "instrument stands {} from here. {} Correct the list, and run again.",
                  part.findings.size() == 1 ? "this" : "these", fine(scene, shift.norm()), rest));
  return sentences;
}

std::vector<std::string> movement_sentences(const Scene& scene, const Movement& movement) {
  const auto name = [&](std::size_t i) { return scene.nests[movement.nests[i].nest.index].name; };
  std::vector<std::string> shifts;
  for (std::size_t i = 0; i < movement.nests.size(); ++i)
    shifts.push_back(fmt::format("{} by {}", name(i), fine(scene, movement.nests[i].shift.norm())));
  std::vector<std::string> sentences{
      fmt::format("Read again at the end, the nests differ from the start: {}.", list_of(shifts))};
  const std::string figures = fmt::format("chi-square {} with {} degrees of freedom, 1 % bound {}",
                                          fixed_text(movement.chi_square, 1), movement.freedoms,
                                          fixed_text(movement.bound, 1));
  const std::string tainted = "What was measured between the two is tainted: measure it again.";
  switch (movement.moved) {
    case Moved::untested:
      break;
    case Moved::nothing:
      sentences.push_back(
          fmt::format("The stated errors explain that: nothing moved ({}).", figures));
      break;
    case Moved::nest: {
      std::string text = fmt::format(
          "{} moved by {}: without it the others stand where they stood ({}).",
          name(*movement.nest), fine(scene, movement.nests[*movement.nest].shift.norm()), figures);
      std::vector<std::string> rivals;
      for (const std::size_t i : movement.rivals) rivals.push_back(name(i));
      if (!rivals.empty()) text += fmt::format(" It could be {} as well.", list_of(rivals));
      sentences.push_back(text + " Tie nothing by it from here on.");
      break;
    }
    case Moved::station:
      sentences.push_back(fmt::format(
          "The station moved: its measuring centre by {}, and it turned by {} microradians; that "
          "explains all of it ({} before, {} after). {}",
          fine(scene, movement.shift_of_station->norm()),
          fixed_text(movement.turn_of_station.norm() * 1e6, 1), figures,
          fixed_text(movement.chi_square_after, 1), tainted));
      break;
    case Moved::cannot_tell:
      sentences.push_back(fmt::format(
          "Something moved ({}). With fewer than three nests it cannot be told whether it was the "
          "station: read more of them again. {}",
          figures, tainted));
      break;
    case Moved::several:
      sentences.push_back(fmt::format(
          "Several things moved ({}): neither one nest nor the station alone explains it. {}",
          figures, tainted));
      break;
  }
  return sentences;
}

void print_part_rows(const Scene& scene, const PartStation& part, std::ostream& out) {
  const auto title = [&](const char* what) { return fmt::format("{} ({})", what, scene.units); };
  Table table{{{"no.", Align::right},
               {"reading"},
               {"target"},
               {title("misfit"), Align::right},
               {"weighted", Align::right},
               {"drop", Align::right}},
              {}};
  for (std::size_t i = 0; i < part.seen.size(); ++i) {
    const SeenRow& seen = part.seen[i];
    const PartRow& row = part.rows[i];
    table.rows.push_back({std::to_string(i + 1), name_of_row(scene, seen),
                          seen.nest ? "-" : target_name(scene, seen.target),
                          length_text(scene, row.length, step::kUncertainty),
                          part.is_tested ? fixed_text(row.normalised, 1) : "-",
                          row.freedoms > 0 ? fixed_text(row.drop, 1) : "-"});
  }
  print(table, out);
}

}  // namespace standpoint
