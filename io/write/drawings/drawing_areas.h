#pragma once

#include <string>
#include <vector>

#include "io/write/drawings/sheet.h"

namespace standpoint {

inline constexpr double kLetter = 11;            ///< height of a name, sheet units
inline constexpr std::size_t kMostLetters = 28;  ///< of a name; longer ones are cut

/// An area's name in the lower left corner of what shows of it, or above that where another is;
/// empty where there is no room, or where nothing of it is on the sheet.
[[nodiscard]] std::string area_name(const Sheet& sheet, const std::vector<Vec2>& polygon,
                                    const std::string& name, LabelPlaces& labels);

}  // namespace standpoint
