// The open CAD files, where they are present: size, unit, faces, against the text of the file
// itself.

#include <algorithm>
#include <fstream>
#include <map>
#include <regex>
#include <sstream>

#include <gtest/gtest.h>

#include "tests/io/read/body_files.h"

namespace standpoint {
namespace {

std::string text_of(const std::filesystem::path& file) {
  std::stringstream text;
  text << std::ifstream(file, std::ios::binary).rdbuf();
  return text.str();
}

std::size_t count_of(const std::string& text, const std::string& pattern) {
  const std::regex wanted(pattern, std::regex::optimize);
  return static_cast<std::size_t>(std::distance(
      std::sregex_iterator(text.begin(), text.end(), wanted), std::sregex_iterator()));
}

/// The corner points of the solid, in the file's own numbers: what VERTEX_POINT entities refer to.
/// ISO 10303-42: a vertex_point's geometry is a cartesian_point.
std::vector<Vec3> corner_points(const std::string& text) {
  std::map<std::string, Vec3> points;
  const std::string number = R"(\s*([-+0-9.eE]+)\s*)";
  const std::regex point(R"(#(\d+)\s*=\s*CARTESIAN_POINT\s*\(\s*'[^']*'\s*,\s*\()" + number + "," +
                             number + "," + number + R"(\))",
                         std::regex::optimize);
  for (std::sregex_iterator i(text.begin(), text.end(), point), end; i != end; ++i) {
    points[(*i)[1]] = Vec3(std::stod((*i)[2]), std::stod((*i)[3]), std::stod((*i)[4]));
  }
  std::vector<Vec3> corners;
  const std::regex vertex(R"(VERTEX_POINT\s*\(\s*'[^']*'\s*,\s*#(\d+)\s*\))", std::regex::optimize);
  for (std::sregex_iterator i(text.begin(), text.end(), vertex), end; i != end; ++i) {
    corners.push_back(points.at((*i)[1]));
  }
  return corners;
}

/// The greatest distance of a point from the nearest of `vertices`, all in mm.
double farthest_from(const std::vector<Vec3>& points, const std::vector<Vec3>& vertices) {
  double farthest = 0;
  for (const Vec3& p : points) {
    double nearest = 1e300;
    for (const Vec3& v : vertices) {
      nearest = std::min(nearest, (p - v).squaredNorm());
    }
    farthest = std::max(farthest, std::sqrt(nearest));
  }
  return farthest;
}

struct Part {
  const char* file;
  double mm_per_unit;  ///< as its LENGTH_UNIT entities say
  double longest;      ///< mm, from another source than the file's corners; 0 where there is none
  bool is_closed;      ///< holds one or more solids and no loose shell
};

void PrintTo(const Part& part, std::ostream* out) {
  *out << part.file;
}

class SharedCad : public testing::TestWithParam<Part> {};

TEST_P(SharedCad, EveryCornerAndFaceOfTheFileIsInTheMesh) {
  const auto file = shared_data(GetParam().file);
  if (!file) {
    GTEST_SKIP() << "shared data " << GetParam().file << " is not here";
  }
  auto body = read_plainly(*file);
  ASSERT_TRUE(body) << body.error();
  EXPECT_DOUBLE_EQ(body->report.mm_per_unit, GetParam().mm_per_unit);
  EXPECT_EQ(body->report.unit_source, "file");
  EXPECT_TRUE(body->report.lost_faces.empty());

  const std::string text = text_of(*file);
  // ADVANCED_FACE is the only face entity in these files.
  const std::size_t faces = count_of(text, R"(=\s*ADVANCED_FACE\s*\()");
  EXPECT_EQ(body->mesh.face_names.size(), faces);
  std::vector<bool> has_triangle(faces, false);
  for (const std::uint32_t face : body->mesh.face_of_triangle) {
    has_triangle[face] = true;
  }
  EXPECT_EQ(std::count(has_triangle.begin(), has_triangle.end(), false), 0);

  if (GetParam().longest > 0) {
    EXPECT_NEAR((body->report.high - body->report.low).maxCoeff(), GetParam().longest,
                0.005 * GetParam().longest);
  }
  if (GetParam().is_closed) {
    EXPECT_EQ(body->report.defects.open_edges, 0U);
    EXPECT_EQ(body->report.defects.crowded_edges, 0U);
  }

  std::vector<Vec3> corners = corner_points(text);
  ASSERT_GT(corners.size(), 100U);
  Vec3 low = Vec3::Constant(1e300);
  Vec3 high = -low;
  for (Vec3& c : corners) {
    c *= GetParam().mm_per_unit;
    low = low.cwiseMin(c);
    high = high.cwiseMax(c);
  }
  if (corners.size() > 3000) {
    corners.resize(3000);  // the search is quadratic
  }
  // The files themselves claim no better than some micrometres.
  EXPECT_LE(farthest_from(corners, body->mesh.vertices), 2e-3);
  // Curved faces may bulge beyond the corners, never stay behind them.
  EXPECT_LE((body->report.low - low).maxCoeff(), 2e-3);
  EXPECT_GE((body->report.high - high).minCoeff(), -2e-3);
  EXPECT_LE(((body->report.high - body->report.low) - (high - low)).norm(),
            0.2 * (high - low).norm());
}

// The units stand in the files' LENGTH_UNIT entities: SI_UNIT(.MILLI.,.METRE.), in the fifth a
// CONVERSION_BASED_UNIT('INCH'), in the generator SI_UNIT($,.METRE.). The generator's 10.5 m across
// is that of the reference turbine's public description. The second and fourth part hold loose
// shells (SHELL_BASED_SURFACE_MODEL) beside their solid.
INSTANTIATE_TEST_SUITE_P(OpenFiles, SharedCad,
                         testing::Values(Part{"nist/nist_ctc_01_asme1_ap242-e1.stp", 1, 0, true},
                                         Part{"nist/nist_ctc_02_asme1_ap242-e2.stp", 1, 0, false},
                                         Part{"nist/nist_ctc_03_asme1_ap242-e2.stp", 1, 0, true},
                                         Part{"nist/nist_ctc_04_asme1_ap242-e1.stp", 1, 0, false},
                                         Part{"nist/nist_ctc_05_asme1_ap242-e1.stp", 25.4, 0, true},
                                         Part{"iea15mw/Generator_detail.STEP", 1000, 10500, true}),
                         [](const testing::TestParamInfo<Part>& part) {
                           std::string name =
                               std::filesystem::path(part.param.file).stem().string();
                           std::replace_if(
                               name.begin(), name.end(), [](char c) { return c == '-'; }, '_');
                           return name;
                         });

}  // namespace
}  // namespace standpoint
