#pragma once

#include <string>

namespace standpoint::test {

/// Figures where one machine and another might differ, as text with every bit (hexadecimal), a line
/// each: elementary functions, draws, quantiles, numbers read, polygons whose edges a point nearly
/// touches, a network large enough for its products to be taken in blocks. Compiled natively and to
/// WebAssembly; page.PlannerPlansUnderNode compares the texts. Takes a second or so.
std::string figures();

}  // namespace standpoint::test
