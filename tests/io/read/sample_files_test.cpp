// Every file of Debian's assimp-testmodels, many of them broken on purpose: none may crash the
// program, loop, or take memory out of proportion.

#include <algorithm>
#include <cmath>
#include <set>

#include <gtest/gtest.h>
#include <sys/resource.h>

#include "tests/io/read/body_files.h"

namespace standpoint {
namespace {

namespace fs = std::filesystem;

const fs::path kModels = "/usr/share/assimp/models";

TEST(SampleFiles, NoneDoesHarm) {
  if (!fs::exists(kModels)) {
    GTEST_SKIP() << "Debian's assimp-testmodels is not installed";
  }
  std::vector<fs::path> files;
  for (const auto& entry : fs::recursive_directory_iterator(kModels)) {
    if (entry.is_regular_file()) {
      files.push_back(entry.path());
    }
  }
  std::sort(files.begin(), files.end());
  std::size_t read = 0;
  for (const fs::path& file : files) {
    const auto body = read_plainly(file);
    if (!body) {
      EXPECT_FALSE(body.error().empty()) << file;
      EXPECT_EQ(body.error().find('\n'), std::string::npos) << file;
      continue;
    }
    ++read;
    const Mesh& mesh = body->mesh;
    EXPECT_FALSE(mesh.triangles.empty()) << file;
    EXPECT_EQ(mesh.face_of_triangle.size(), mesh.triangles.size()) << file;
    EXPECT_TRUE(std::all_of(mesh.vertices.begin(), mesh.vertices.end(), [](const Vec3& v) {
      return v.allFinite();
    })) << file;
    for (const auto& t : mesh.triangles) {
      ASSERT_LT(*std::max_element(t.begin(), t.end()), mesh.vertices.size()) << file;
    }
  }
  // Some 270 of the package's 595 files are meshes that Assimp 5.2.5 reads.
  EXPECT_GT(read, 200U);
#if !defined(__SANITIZE_ADDRESS__)
  rusage children{};
  ::getrusage(RUSAGE_CHILDREN, &children);
  // Kilobytes, of the greediest: 98 MB was seen. Tests of this program that ran before count too.
  EXPECT_LT(children.ru_maxrss, 4'000'000);
#endif
}

TEST(SampleFiles, FileThatAsksForTwentyFourGigabytesIsRefusedByItsHeader) {
  const fs::path file = kModels / "invalid/OutOfMemory.off";
  if (!fs::exists(file)) {
    GTEST_SKIP() << "Debian's assimp-testmodels is not installed";
  }
  const auto body = read_plainly(file);
  ASSERT_FALSE(body);
  EXPECT_NE(body.error().find("its header declares 353535235358 vertices"), std::string::npos)
      << body.error();
}

}  // namespace
}  // namespace standpoint
