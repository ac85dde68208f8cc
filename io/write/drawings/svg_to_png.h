#pragma once

#include <string>

#include <tl/expected.hpp>

namespace standpoint {

/// An SVG document as a PNG, `scale` pixels to each unit of its width and height, on its own paper.
/// The error is one plain sentence: not an SVG, no size of its own, or larger than 16384 pixels
/// either way. Text is set in the fonts of the machine. O(pixels).
[[nodiscard]] tl::expected<std::string, std::string> svg_to_png(const std::string& svg,
                                                                double scale);

}  // namespace standpoint
