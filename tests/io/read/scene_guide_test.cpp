// The scene of docs/scene.md is one.

#include <gtest/gtest.h>

#include "tests/io/read/scene_samples.h"
#include "tests/io/schema_check.h"

namespace standpoint {
namespace {

using scene_samples::listed;
using scene_samples::parse;
using schema_check::text_of;

TEST(SceneGuide, ItsSceneIsOne) {
  const std::string guide = text_of("docs/scene.md");
  const auto begin = guide.find("```json\n") + 8;
  const auto result = parse(guide.substr(begin, guide.find("```", begin) - begin));
  ASSERT_TRUE(result) << listed(result);
  EXPECT_EQ(result->scene.name, "pump housing");
  EXPECT_EQ(result->scene.features.size(), 3u);
}

}  // namespace
}  // namespace standpoint
