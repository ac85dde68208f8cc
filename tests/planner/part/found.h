#pragma once

#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "planner/part/find_features.h"

namespace standpoint::test {

[[nodiscard]] inline std::vector<FoundFeature> without_planes(const PartFaces& part,
                                                              const FindOptions& options = {}) {
  auto found = find_features(part, options);
  std::erase_if(found, [](const FoundFeature& f) { return f.kind == FoundKind::plane; });
  return found;
}

[[nodiscard]] inline std::vector<std::string> names_of(const std::vector<FoundFeature>& found) {
  std::vector<std::string> names;
  for (const FoundFeature& f : found) names.push_back(f.name);
  return names;
}

inline void expect_near(const Vec3& a, const Vec3& b, double within = 1e-6) {
  EXPECT_LE((a - b).norm(), within) << a.transpose() << " and " << b.transpose();
}

}  // namespace standpoint::test
