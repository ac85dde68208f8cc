#pragma once

#include <string>

#include <tl/expected.hpp>

#include "io/use/ask_why.h"
#include "io/write/files/write_files.h"

namespace standpoint {

/// The picture that `why` writes (docs/why.md): the look along the beam, as SVG or, where the name
/// ends in .png, as PNG. Why there is none, as a sentence.
[[nodiscard]] tl::expected<OutFile, std::string> why_picture(const WhyAnswer& answer,
                                                             const std::string& name);

}  // namespace standpoint
