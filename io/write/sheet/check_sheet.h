#pragma once

#include <string>
#include <vector>

#include "standpoint/cell.h"

namespace standpoint {

/// What `check -o` draws of a scene: its plan above its elevation, to one scale.
struct CheckSheet {
  std::string lede;                   ///< what the scene holds, counted, in a sentence
  std::vector<std::string> warnings;  ///< usual mistakes, in sentences
  std::vector<std::string> remarks;   ///< what else is worth knowing
};

/// The drawing alone, as an SVG file that any viewer opens: no style from outside, no variables.
[[nodiscard]] std::string check_svg(const Cell& cell);

/// The drawing with the sheet's words, and the numbers of the features, as one HTML file that needs
/// nothing else.
[[nodiscard]] std::string check_html(const Cell& cell, const CheckSheet& sheet);

}  // namespace standpoint
