#pragma once

#include <functional>
#include <string>

#include "tests/io/read/scene_samples.h"
#include "tests/io/schema_check.h"

namespace standpoint::scene_schema_walk {

// docs/scene.schema.json and the scene of these tests that uses every key, walked together.

using scene_samples::Json;

[[nodiscard]] const schema_check::Schemas& schemas();
[[nodiscard]] const Json& schema();
[[nodiscard]] Json resolved(const Json& node);
/// The schema type of a node, also where only `const` or `enum` tells it.
[[nodiscard]] std::string type_of(const Json& node);
/// Whether an object's `oneOf` says only which of some keys it has; else each branch is a whole
/// object of its own.
[[nodiscard]] bool chooses_keys(const Json& node);

using Visit = std::function<void(const Json& node, const Json& value, const std::string& pointer)>;
/// Calls `visit` for each value of the scene with its schema node, from the outside in.
void for_each_value(const Visit& visit);

}  // namespace standpoint::scene_schema_walk
