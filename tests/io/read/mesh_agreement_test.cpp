// Meshes of NIST's public test parts (CTC 01 to 05) against their CAD, kind by kind. Prints the
// table of docs/mesh-faces.md.

#include "tests/io/read/mesh_agreement.h"

#include <algorithm>
#include <iostream>
#include <string>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "io/read/bodies/part_reader.h"
#include "planner/part/find_features.h"
#include "planner/segmentation/fit_faces.h"
#include "tests/io/read/body_files.h"
#include "tests/io/read/mesh_cuts.h"

namespace standpoint {
namespace {

using test::AgreedKind;
using test::Agreement;
using test::Tally;

/// One mesh of one part. `missed` and `wrong` are what is known not to agree, in all: more is a
/// step back, and fewer must be told here.
struct Case {
  int part;
  test::Cut cut;
  std::size_t missed = 0;
  std::size_t wrong = 0;
};

void PrintTo(const Case& one, std::ostream* out) {
  *out << "CTC-0" << one.part << ' ' << one.cut.name;
}

const char* file_of(int part) {
  constexpr const char* kFiles[] = {
      "nist/nist_ctc_01_asme1_ap242-e1.stp", "nist/nist_ctc_02_asme1_ap242-e2.stp",
      "nist/nist_ctc_03_asme1_ap242-e2.stp", "nist/nist_ctc_04_asme1_ap242-e1.stp",
      "nist/nist_ctc_05_asme1_ap242-e1.stp"};
  return kFiles[part - 1];
}

/// By how much what is found may be off: docs/mesh-faces.md says why.
test::AgreeOptions options_of(const test::Cut& cut) {
  test::AgreeOptions options;
  if (cut.scatter > 0) {
    options = {0.01 + 1.5 * cut.scatter, 0.05 + 10 * cut.scatter, 2.5, 4 * cut.scatter};
    options.cover_share = 0.8;
  } else if (cut.coarser > 0) {
    options = {1.2 * cut.coarser, 6 * cut.coarser, 2.5, 2.4 * cut.coarser};
    options.cover_share = 0.8;
  } else {
    options = {0.01, 0.05, 0.1, 0.02};
    options.rim = 2 * cut.chord < 0.5 ? 0.5 : 2 * cut.chord;
    options.cover_share = 0.8;
  }
  return options;
}

std::string row_of(const Case& one, std::size_t triangles, const Agreement& agreement) {
  std::string row = fmt::format("| {} | {} | {} |", one.part, one.cut.name, triangles);
  for (const Tally& t : agreement.of_kind) {
    if (t.in_cad + t.wrong + t.guessed == 0) {
      row += " |";
      continue;
    }
    row += fmt::format(" {} of {}", t.agrees + t.doubtful, t.in_cad);
    if (t.doubtful > 0) row += fmt::format(", {} doubtful", t.doubtful);
    if (t.wrong > 0) row += fmt::format(", {} false", t.wrong);
    if (t.guessed > 0) row += fmt::format(", {} more doubtful", t.guessed);
    row += " |";
  }
  return row;
}

class MeshAgreement : public testing::TestWithParam<Case> {};

TEST_P(MeshAgreement, FeaturesOfTheMeshAreThoseOfTheCad) {
  const Case& one = GetParam();
  const auto file = shared_data(file_of(one.part));
  if (!file) GTEST_SKIP() << "shared data " << file_of(one.part) << " is not here";
  const auto cad = read_part_faces(*file);
  ASSERT_TRUE(cad) << cad.error();
  const Mesh mesh = test::mesh_cut(*file, one.cut);
  ASSERT_FALSE(mesh.triangles.empty());
  const test::Looked by_cad = {cad->part, find_features(cad->part)};
  const PartFaces fitted = fit_faces(mesh);
  const test::Looked by_mesh = {fitted, find_features(fitted)};
  const Agreement agreement = test::agreement_of(by_cad, by_mesh, options_of(one.cut));
  std::cout << row_of(one, mesh.triangles.size(), agreement) << '\n';
  std::size_t missed = 0, wrong = 0;
  for (const Tally& t : agreement.of_kind) {
    missed += t.missed;
    wrong += t.wrong;
  }
  std::string words;
  for (const std::string& line : agreement.words) words += line + '\n';
  EXPECT_EQ(missed, one.missed) << words;
  EXPECT_EQ(wrong, one.wrong) << words;
}

INSTANTIATE_TEST_SUITE_P(NistParts, MeshAgreement,
                         testing::Values(Case{1, test::kFine}, Case{1, test::kCoarse},
                                         Case{1, test::kNoisy}, Case{1, test::kSimplified, 2},
                                         Case{2, test::kCoarse, 0, 1}, Case{2, test::kNoisy, 2, 1},
                                         Case{2, test::kSimplified, 4, 3}, Case{3, test::kFine},
                                         Case{3, test::kCoarse}, Case{3, test::kNoisy},
                                         Case{3, test::kSimplified, 1}, Case{4, test::kCoarse},
                                         Case{4, test::kNoisy, 1, 1}, Case{4, test::kSimplified, 4},
                                         Case{5, test::kFine}, Case{5, test::kCoarse},
                                         Case{5, test::kNoisy, 1}, Case{5, test::kSimplified, 2}));

/// A plate of 40 by 40 with a hole of 10, as CAD would give it.
test::Looked plate(double x_of_hole, double diameter) {
  test::Looked looked;
  Face top;
  top.number = 1;
  top.surface.kind = SurfaceKind::plane;
  top.area = 1600;
  top.loops = {{Edge{std::nullopt,
                     EdgeBend::open,
                     {Vec3(-20, -20, 0), Vec3(20, -20, 0), Vec3(20, 20, 0), Vec3(-20, 20, 0),
                      Vec3(-20, -20, 0)}}}};
  looked.part.faces = {top};
  FoundFeature hole;
  hole.kind = FoundKind::hole;
  hole.hollow = hole.through = true;
  hole.centre = Vec3(x_of_hole, 0, 0);
  hole.diameter = diameter;
  hole.depth = 10;
  FoundFeature plane;
  plane.kind = FoundKind::plane;
  plane.area = 1600;
  plane.faces = {1};
  looked.found = {hole, plane};
  return looked;
}

const Tally& of(const Agreement& agreement, AgreedKind kind) {
  return agreement.of_kind[static_cast<std::size_t>(kind)];
}

TEST(MeshAgreementItself, APartAgreesWithItselfAndNotWithAMovedOrWiderHole) {
  const test::AgreeOptions options;
  const Agreement same = agreement_of(plate(0, 10), plate(0, 10), options);
  EXPECT_EQ(of(same, AgreedKind::hole).agrees, 1U);
  EXPECT_EQ(of(same, AgreedKind::plane).agrees, 1U);
  EXPECT_TRUE(same.words.empty());
  for (const auto& other : {plate(0.05, 10), plate(0, 10.1)}) {
    const Agreement off = agreement_of(plate(0, 10), other, options);
    EXPECT_EQ(of(off, AgreedKind::hole).missed, 1U);
    EXPECT_EQ(of(off, AgreedKind::hole).wrong, 1U);
    EXPECT_EQ(off.words.size(), 2U);
  }
}

TEST(MeshAgreementItself, APlaneThatIsLiftedTurnedOverOrHalfThereIsMissed) {
  const test::AgreeOptions options;
  test::Looked lifted = plate(0, 10), over = plate(0, 10), half = plate(0, 10);
  lifted.part.faces[0].surface.at = Vec3(0, 0, 0.1);
  over.part.faces[0].surface.axis = -Vec3::UnitZ();
  half.part.faces[0].loops[0][0].points = {Vec3(-20, -20, 0), Vec3(0, -20, 0), Vec3(0, 20, 0),
                                           Vec3(-20, 20, 0), Vec3(-20, -20, 0)};
  for (const auto& other : {lifted, over, half}) {
    EXPECT_EQ(of(agreement_of(plate(0, 10), other, options), AgreedKind::plane).missed, 1U);
  }
  // In two pieces it is all there.
  test::Looked halves = half;
  halves.part.faces.push_back(half.part.faces[0]);
  halves.part.faces[1].number = 2;
  for (Vec3& p : halves.part.faces[1].loops[0][0].points) p.x() += 20;
  EXPECT_EQ(of(agreement_of(plate(0, 10), halves, options), AgreedKind::plane).agrees, 1U);
}

}  // namespace
}  // namespace standpoint
