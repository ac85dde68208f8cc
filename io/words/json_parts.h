#pragma once

#include <optional>
#include <string>
#include <string_view>

#include <nlohmann/json_fwd.hpp>

#include "standpoint/plan.h"
#include "standpoint/scene.h"

namespace standpoint {

// The pieces that several of the written JSON objects share. Keys keep the order in which they are
// written, so the same values always give the same bytes.

using Json = nlohmann::ordered_json;

namespace json {

/// A number; null where it is not finite; 0 for -0.
[[nodiscard]] Json number(double value);
/// A length in mm, in the scene's units; null where it is not finite.
[[nodiscard]] Json length(const Scene& scene, double mm);
[[nodiscard]] Json length(const Scene& scene, std::optional<double> mm);
/// [x, y, z] in the scene's units.
[[nodiscard]] Json place(const Scene& scene, const Vec3& at);
/// [x, y, z] without unit.
[[nodiscard]] Json direction(const Vec3& unit);
/// Adds how the instrument stands, "up", where it does not stand upright.
void add_up(const Vec3& up, Json& object);
/// Text, made well-formed UTF-8.
[[nodiscard]] Json text(std::string_view name);
/// Where the instrument measures to for one touch of a feature, by the target that takes the
/// feature (on a hole's rim each ball sits at a height of its own); by the touch's own where that
/// target does not reach it. Precondition: touch < mark.touches.size().
[[nodiscard]] Json optical_centre(const Scene& scene, const FeatureMark& mark, std::size_t touch);
[[nodiscard]] Json cause(const Scene& scene, const Cause& cause);
[[nodiscard]] Json causes(const Scene& scene, const std::vector<Cause>& causes);
/// {"covariance": scene units^2, "expanded": scene units}.
[[nodiscard]] Json uncertainty(const Scene& scene, const PointUncertainty& uncertainty);
/// 6 x 6: translation in scene units first, then rotation in rad.
[[nodiscard]] Json pose_covariance(const Scene& scene,
                                   const Eigen::Matrix<double, 6, 6>& covariance);
/// The object as text: one top-level key a line, and within a top-level list one entry a line;
/// ends with a newline. Made safe (`for_json`). Readable, and small changes make small differences.
[[nodiscard]] std::string write(const Json& object);

}  // namespace json
}  // namespace standpoint
