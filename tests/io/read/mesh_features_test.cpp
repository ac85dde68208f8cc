// What is found on meshes of NIST's public test parts, fine, coarse, with scatter and made coarser,
// against what is found on their CAD and against the counts that the parts are known for.

#include <algorithm>
#include <cmath>
#include <map>
#include <ostream>
#include <string>

#include <gtest/gtest.h>

#include "io/read/bodies/part_reader.h"
#include "planner/part/find_features.h"
#include "planner/segmentation/fit_faces.h"
#include "tests/io/read/body_files.h"
#include "tests/io/read/mesh_cuts.h"

namespace standpoint {
namespace {

using test::Cut;
using test::kCoarse;
using test::kFine;
using test::kNoisy;
using test::kSimplified;

/// Holes by diameter, as the parts are known for: those over 60 mm come as cylinders.
using Holes = std::map<double, std::size_t>;

struct Part {
  const char* file;
  Holes holes;
};

void PrintTo(const Part& part, std::ostream* out) {
  *out << part.file;
}

const Part kPart1 = {"nist/nist_ctc_01_asme1_ap242-e1.stp", {{20, 2}, {25, 4}, {35, 4}}};
const Part kPart2 = {"nist/nist_ctc_02_asme1_ap242-e2.stp",
                     {{8.38, 42}, {10.1, 30}, {12, 2}, {22, 6}, {40, 2}, {52, 2}}};
const Part kPart3 = {"nist/nist_ctc_03_asme1_ap242-e2.stp",
                     {{4.763, 4}, {11.125, 4}, {15.875, 4}, {27.051, 1}, {38.1, 1}, {50.8, 1}}};
const Part kPart4 = {"nist/nist_ctc_04_asme1_ap242-e1.stp",
                     {{6.65, 12}, {10, 4}, {10.2, 4}, {12, 4}, {12.1, 2}, {14, 30}}};
const Part kPart5 = {"nist/nist_ctc_05_asme1_ap242-e1.stp", {{7.938, 4}, {10.716, 6}, {19.05, 10}}};

class MeshFeatures : public testing::TestWithParam<std::pair<Part, Cut>> {};

TEST_P(MeshFeatures, HolesAreThoseOfTheCad) {
  const auto& [part, cut] = GetParam();
  SCOPED_TRACE(std::string(part.file) + ", " + cut.name);
  const auto file = shared_data(part.file);
  if (!file) GTEST_SKIP() << "shared data " << part.file << " is not here";
  const auto cad = read_part_faces(*file);
  ASSERT_TRUE(cad) << cad.error();
  const std::vector<FoundFeature> wanted = find_features(cad->part);
  const std::vector<FoundFeature> found = find_features(fit_faces(test::mesh_cut(*file, cut)));

  Holes holes;
  for (const auto& [diameter, count] : part.holes) holes[diameter] = 0;
  std::size_t others = 0;
  for (const FoundFeature& feature : found) {
    if (feature.kind != FoundKind::hole) continue;
    const auto near =
        std::min_element(holes.begin(), holes.end(), [&](const auto& one, const auto& other) {
          return std::abs(one.first - feature.diameter) < std::abs(other.first - feature.diameter);
        });
    const bool is_known = std::abs(near->first - feature.diameter) < 0.1;
    (is_known ? near->second : others) += 1;
  }
  EXPECT_EQ(holes, part.holes);
  EXPECT_EQ(others, 0U);

  // Each beside one of the CAD: place, direction, size, whether it goes through.
  const double within = 0.01 + 1.5 * cut.scatter;
  for (const FoundFeature& feature : found) {
    if (feature.kind != FoundKind::hole) continue;
    ASSERT_TRUE(feature.fit);
    EXPECT_LT(feature.fit->rms, 0.005 + 1.2 * cut.scatter);
    const bool is_there = std::any_of(wanted.begin(), wanted.end(), [&](const FoundFeature& w) {
      return w.kind == FoundKind::hole && std::abs(w.diameter - feature.diameter) < within &&
             w.axis.cross(feature.centre - w.centre).norm() < within &&
             w.axis.dot(feature.axis) > 0.999 && w.through == feature.through &&
             std::abs(w.axis.dot(feature.centre - w.centre)) < 0.05 + 10 * cut.scatter;
    });
    std::string near;
    for (const FoundFeature& w : wanted) {
      if (w.kind == FoundKind::hole && w.axis.cross(feature.centre - w.centre).norm() < 1) {
        near += w.name + " off by " + std::to_string(w.axis.dot(feature.centre - w.centre)) +
                (w.through == feature.through ? " " : ", not both through ");
      }
    }
    EXPECT_TRUE(is_there) << near << feature.name << " at " << feature.centre.transpose()
                          << ", diameter " << feature.diameter;
  }
}

INSTANTIATE_TEST_SUITE_P(NistParts, MeshFeatures,
                         testing::Values(std::pair{kPart1, kFine}, std::pair{kPart1, kCoarse},
                                         std::pair{kPart1, kNoisy}, std::pair{kPart1, kSimplified},
                                         std::pair{kPart2, kCoarse}, std::pair{kPart3, kFine},
                                         std::pair{kPart3, kCoarse}, std::pair{kPart3, kNoisy},
                                         std::pair{kPart3, kSimplified}, std::pair{kPart4, kCoarse},
                                         std::pair{kPart4, kNoisy}, std::pair{kPart5, kFine},
                                         std::pair{kPart5, kCoarse}, std::pair{kPart5, kNoisy}));

}  // namespace
}  // namespace standpoint
