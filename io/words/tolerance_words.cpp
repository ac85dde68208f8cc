#include "io/words/tolerance_words.h"

#include <fmt/format.h>

namespace standpoint {

std::string_view tolerance_word(ToleranceKind kind) {
  switch (kind) {
    case ToleranceKind::position:
      return "position";
    case ToleranceKind::coaxiality:
      return "coaxiality";
    case ToleranceKind::symmetry:
      return "symmetry";
    case ToleranceKind::surface_profile:
      return "profile of a surface";
    case ToleranceKind::line_profile:
      return "profile of a line";
    case ToleranceKind::total_runout:
      return "total run-out";
    case ToleranceKind::circular_runout:
      return "circular run-out";
    case ToleranceKind::perpendicularity:
      return "perpendicularity";
    case ToleranceKind::parallelism:
      return "parallelism";
    case ToleranceKind::angularity:
      return "angularity";
    case ToleranceKind::flatness:
      return "flatness";
    case ToleranceKind::straightness:
      return "straightness";
    case ToleranceKind::roundness:
      return "roundness";
    case ToleranceKind::cylindricity:
      break;
  }
  return "cylindricity";
}

std::string entity_words(std::uint64_t id, const std::string& part_file) {
  return part_file.empty() ? fmt::format("#{}", id) : fmt::format("#{} of {}", id, part_file);
}

std::string tolerance_words(const GeometricTolerance& tolerance) {
  // Six digits, so that 0.005 inch is 0.127 and no tail of binary digits.
  std::string words = fmt::format("{} {:.6g}", tolerance_word(tolerance.kind), tolerance.width);
  for (const std::string& modifier : tolerance.modifiers) {
    words += " " + modifier;
  }
  for (const std::string& datum : tolerance.datums) {
    words += " | " + datum;
  }
  return words + fmt::format(" ({})", entity_words(tolerance.id, tolerance.part_file));
}

}  // namespace standpoint
