#pragma once

#include <functional>
#include <string>
#include <vector>

#include "tests/io/read/scene_samples.h"

namespace standpoint::scene_samples {

/// A scene with one thing wrong, and the one fault that tells it.
struct BadScene {
  std::string name;
  std::function<std::string()> text;
  FaultKind kind;
  std::string where;
  std::string value;      ///< all of it
  std::string allowed;    ///< a part of it
  std::string nearest{};  ///< all of it
};

/// One bad scene or more for every kind of fault that the reader can tell from a scene's text.
[[nodiscard]] const std::vector<BadScene>& bad_scenes();

/// Those of features' shapes: a part of them.
[[nodiscard]] std::vector<BadScene> shape_cases();
[[nodiscard]] std::vector<BadScene> element_cases();

/// Makes the text of the full scene without one value.
[[nodiscard]] std::function<std::string()> without(const std::string& pointer);

/// Makes the text of the full scene with one value put in place of another.
[[nodiscard]] std::function<std::string()> with(const std::string& pointer, const Json& value);

[[nodiscard]] std::string repeated(const std::string& piece, std::size_t times);

}  // namespace standpoint::scene_samples
