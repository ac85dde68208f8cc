// The annotation of the public test parts of NIST (product definition test cases CTC 01 to 05,
// U.S. Government work), where they are present. The expected lines are worked out from the
// files' own records, inches times 25.4; faces and datums are those that OpenCASCADE's own reading
// gives.

#include <algorithm>
#include <cmath>
#include <fstream>
#include <regex>
#include <set>
#include <sstream>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "io/read/cad/annotation.h"
#include "io/read/cad/cad_faces.h"
#include "io/words/tolerance_words.h"
#include "tests/io/read/annotation_oracle.h"
#include "tests/io/read/body_files.h"

namespace standpoint {
namespace {

using testing::ElementsAreArray;
using testing::IsEmpty;

struct Part {
  const char* file;
  std::vector<std::string> tolerances;
  std::vector<std::string> datums;             ///< letter, and "*" where it is taken at targets
  std::vector<std::uint64_t> lost_by_library;  ///< that OpenCASCADE 7.6 does not give
  std::vector<std::uint64_t> on_drawn;  ///< that the file puts on curves beside the part: these are
                                        ///< on the round faces there, and for OpenCASCADE on none
};

void PrintTo(const Part& part, std::ostream* out) {
  *out << part.file;
}

std::string text_of(const std::filesystem::path& file) {
  std::stringstream text;
  text << std::ifstream(file, std::ios::binary).rdbuf();
  return text.str();
}

/// Faces are numbered as they come; ADVANCED_FACE is the only face entity in these files.
std::map<std::uint64_t, std::size_t> faces_in_order(const std::string& text) {
  std::map<std::uint64_t, std::size_t> numbers;
  const std::regex face(R"(#(\d+)\s*=\s*ADVANCED_FACE\s*\()", std::regex::optimize);
  for (std::sregex_iterator i(text.begin(), text.end(), face), end; i != end; ++i) {
    numbers.emplace(std::stoull((*i)[1]), numbers.size() + 1);
  }
  return numbers;
}

/// "A-B" and "C(M)" as the letters that OpenCASCADE gives: A, B, C.
std::vector<std::string> letters_of(const std::vector<std::string>& datums) {
  std::vector<std::string> letters;
  for (const std::string& datum : datums) {
    for (std::size_t i = 0; i < datum.size(); ++i) {
      if (datum[i] == '(')
        i = datum.find(')', i);
      else if (datum[i] != '-')
        letters.emplace_back(1, datum[i]);
    }
  }
  return letters;
}

bool are_one(const GeometricTolerance& ours, const OracleTolerance& theirs, bool on_drawn) {
  return tolerance_word(ours.kind) == theirs.kind && ours.name == theirs.name &&
         (on_drawn ? theirs.faces.empty() : ours.faces == theirs.faces) &&
         letters_of(ours.datums) == theirs.datums &&
         (ours.zone == ZoneShape::diameter) == theirs.is_diameter &&
         (theirs.width == 0 || std::abs(ours.width - theirs.width) < 1e-5);
}

class SharedCadAnnotation : public testing::TestWithParam<Part> {
 protected:
  void SetUp() override {
    const auto file = shared_data("nist/" + std::string(GetParam().file));
    if (!file) GTEST_SKIP() << "shared data " << GetParam().file << " is not here";
    file_ = *file;
    const std::string text = text_of(*file);
    face_numbers_ = faces_in_order(text);
    found_ = read_annotation(text, face_numbers_);
  }
  std::filesystem::path file_;
  std::map<std::uint64_t, std::size_t> face_numbers_;
  Annotation found_;
};

TEST_P(SharedCadAnnotation, EveryToleranceOfTheFilesTextIsRead) {
  EXPECT_THAT(found_.not_read, IsEmpty());
  std::vector<std::string> lines;
  for (const GeometricTolerance& tolerance : found_.tolerances) {
    lines.push_back(tolerance.text);
    EXPECT_FALSE(tolerance.whole_part);
    EXPECT_FALSE(tolerance.faces.empty()) << tolerance.text;
  }
  EXPECT_THAT(lines, ElementsAreArray(GetParam().tolerances));
}

TEST_P(SharedCadAnnotation, WhatTheLibraryReadsIsTheSame) {
  const OracleAnnotation oracle = annotation_by_opencascade(file_);
  EXPECT_EQ(oracle.face_numbers, face_numbers_);
  std::vector<GeometricTolerance> rest = found_.tolerances;
  for (const OracleTolerance& theirs : oracle.tolerances) {
    const auto same = std::find_if(rest.begin(), rest.end(), [&](const auto& ours) {
      const auto& drawn = GetParam().on_drawn;
      return are_one(ours, theirs, std::count(drawn.begin(), drawn.end(), ours.id) > 0);
    });
    if (same == rest.end()) {
      ADD_FAILURE() << "not among ours: " << theirs.kind << " " << theirs.name;
    } else {
      rest.erase(same);
    }
  }
  std::vector<std::uint64_t> lost;
  for (const GeometricTolerance& ours : rest) lost.push_back(ours.id);
  EXPECT_THAT(lost, ElementsAreArray(GetParam().lost_by_library));
}

TEST_P(SharedCadAnnotation, ComesWithTheFacesOfThePart) {
  const auto part = read_step_faces(file_, 0.1);
  ASSERT_TRUE(part) << part.error();
  ASSERT_EQ(part->annotation.tolerances.size(), found_.tolerances.size());
  std::set<std::size_t> numbers, outside;
  for (const Face& face : part->part.faces) numbers.insert(face.number);
  for (std::size_t i = 0; i < found_.tolerances.size(); ++i) {
    const GeometricTolerance& tolerance = part->annotation.tolerances[i];
    EXPECT_EQ(tolerance.text, found_.tolerances[i].text);
    EXPECT_EQ(tolerance.faces, found_.tolerances[i].faces) << tolerance.text;
    for (const std::size_t face : tolerance.faces) {
      if (numbers.count(face) == 0) outside.insert(face);
    }
  }
  // A face that is in no solid is not among the part's.
  EXPECT_LE(outside.size(), part->loose_faces);
}

TEST_P(SharedCadAnnotation, WhatIsDrawnBesideThePartIsOnRoundFacesOfOneRadius) {
  const auto part = read_step_faces(file_, 0.1);
  ASSERT_TRUE(part) << part.error();
  for (const GeometricTolerance& tolerance : found_.tolerances) {
    const auto& drawn = GetParam().on_drawn;
    if (std::count(drawn.begin(), drawn.end(), tolerance.id) == 0) continue;
    std::set<long> micrometres;
    for (const Face& face : part->part.faces) {
      if (std::count(tolerance.faces.begin(), tolerance.faces.end(), face.number) == 0) continue;
      EXPECT_EQ(face.surface.kind, SurfaceKind::cylinder) << face.number;
      micrometres.insert(std::lround(1000 * face.surface.radius));
    }
    EXPECT_EQ(micrometres.size(), 1U) << tolerance.text;
    // The four threads of M12 have eight halves of their drilled holes.
    if (tolerance.id != 18891) continue;
    EXPECT_EQ(micrometres, std::set<long>{5100});
    EXPECT_EQ(tolerance.faces.size(), 8U);
  }
}

TEST_P(SharedCadAnnotation, DatumsHaveFacesUnlessTheirTargetsArePoints) {
  std::vector<std::string> letters;
  for (const DatumFeature& datum : found_.datums) {
    letters.push_back(datum.letter + (datum.by_targets ? "*" : ""));
    EXPECT_TRUE(datum.by_targets || !datum.faces.empty()) << datum.letter;
  }
  EXPECT_THAT(letters, ElementsAreArray(GetParam().datums));
}

INSTANTIATE_TEST_SUITE_P(
    Nist, SharedCadAnnotation,
    testing::Values(
        Part{"nist_ctc_01_asme1_ap242-e1.stp",
             {"position 0.75 | A | B | C (#21)", "position 0.75 | A | B | C (#22)",
              "profile of a surface 1.25 | A | B | C (#26)", "profile of a surface 0.5 | A (#27)",
              "perpendicularity 1.5 | A (#56)", "flatness 0.2 (#57)"},
             {"A", "B", "C"},
             {},
             {}},
        Part{"nist_ctc_02_asme1_ap242-e2.stp",
             {"profile of a surface 0.1 (#53)",
              "flatness 0.05 (#54)",
              "profile of a surface 2.5 (U) 0 | A | B | C (#56)",
              "profile of a surface 2.5 (U) 0.5 | A | B | C (#57)",
              "profile of a surface 2.5 (U) 2.5 | A | B | C (#58)",
              "profile of a surface 0.8 | G | H | J(L) (#59)",
              "profile of a surface 0.8 | G | H(L) | J (#60)",
              "profile of a surface 0.8 | G | H | J (#61)",
              "profile of a surface 0.5 | D | E(M) | F(M) (#62)",
              "profile of a surface 0.5 | D | E | F(M) (#63)",
              "profile of a surface 0.5 | D | E | F (#64)",
              "profile of a surface 0.5 | D | E(M) | F (#65)",
              "profile of a surface 0.75 | A | B | C (#66)",
              "profile of a surface 0.8 | G | H(L) | J(L) (#67)",
              "perpendicularity 0.1 (L) | G (#68)",
              "position 0.05 | D | E (#69)",
              "perpendicularity 0.05 | D (#81)",
              "perpendicularity 0.254 | K (#82)",
              "profile of a line 0.25 | A | B | C (#83)",
              "position 1.5 (M) | A | B | C (#183)",
              "position 1 (L) | A | B | C (#184)",
              "position 0.15 (L) | G | H (#185)"},
             {"A*", "B*", "C*", "D", "E", "F", "G", "H", "J", "K*"},
             {},
             {}},
        Part{"nist_ctc_03_asme1_ap242-e2.stp",
             {"profile of a surface 0.254 (#35)", "angularity 1.016 | A (#36)",
              "flatness 0.127 per 6.35 (#37)", "profile of a surface 1.524 | A | B | C (#38)",
              "profile of a surface 0.762 | A | B | C (#39)",
              "position 1.27 (M) | A | B(M) | C(M) (#40)", "position 1.27 (M) | D | B | C (#41)",
              "position 0.508 | A | B (#42)", "position 1.524 | D | B | C (#43)",
              "position 2.032 | D | B | C (#44)", "position 0.762 | D | B | C (#45)",
              "perpendicularity 0.254 | A (#79)", "perpendicularity 0.254 | E (#80)"},
             {"A", "B", "C", "D", "E", "F"},
             {37},
             {}},
        Part{"nist_ctc_04_asme1_ap242-e1.stp",
             {"position 0.35 | A | B | C (#18608)", "position 1.5 | D | E | F (#18715)",
              "position 0.3 | D | E (#18730)", "profile of a surface 2 | D | G | H (#18781)",
              "profile of a surface 0.2 | D (#18793)",
              "profile of a surface 0.5 | A | B | C (#18835)",
              "position 0.75 (P) | A | B | C (#18891)"},
             {"A", "B", "C", "D", "E", "F", "G", "H"},
             {18891},
             {18891}},
        Part{"nist_ctc_05_asme1_ap242-e1.stp",
             {"circular run-out 0.889 | A-B (#946)", "circular run-out 0.635 | A-B (#947)",
              "circular run-out 0.635 | A-B (#948)", "perpendicularity 0.254 | C (#955)",
              "perpendicularity 0.254 | D (#956)", "straightness 0.127 (#957)",
              "coaxiality 0.762 | A (#960)", "roundness 0.0508 (#961)",
              "total run-out 0.0508 | A (#962)", "total run-out 0.381 | B (#963)"},
             {"A", "B", "C*", "D*"},
             {},
             {957}}));

}  // namespace
}  // namespace standpoint
