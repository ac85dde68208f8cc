#include "io/write/files/why_files.h"

#include <filesystem>
#include <utility>

#include "io/write/drawings/beam_picture.h"
#include "io/write/drawings/svg_to_png.h"

namespace standpoint {

tl::expected<OutFile, std::string> why_picture(const WhyAnswer& answer, const std::string& name) {
  constexpr double kPixels = 2;  // to each unit: sharp on paper 180 mm wide
  auto drawn = draw_beam_picture(answer.cell, answer.diagnosis);
  if (!drawn)
    return tl::unexpected(
        std::string("there is no picture: no target was tried, so there is no beam to look along"));
  if (std::filesystem::path(name).extension() != ".png") return OutFile{name, std::move(*drawn)};
  auto png = svg_to_png(*drawn, kPixels);
  if (!png) return tl::unexpected(std::move(png.error()));
  return OutFile{name, std::move(*png)};
}

}  // namespace standpoint
