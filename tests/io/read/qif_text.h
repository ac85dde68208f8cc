#pragma once

#include <string>

namespace standpoint::test {

/// A small QIF 3.0 document of our own, invented, that the published schema validates: a point, a
/// plane, two holes, a boss, a sphere, a cone and a slot, with a position, a flatness and a datum.
[[nodiscard]] std::string qif_text();

/// The same with the first `what` replaced. Fails the running test where it is not there.
[[nodiscard]] std::string qif_with(const std::string& what, const std::string& replacement);

}  // namespace standpoint::test
