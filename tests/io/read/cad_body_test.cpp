// STEP and IGES through OpenCASCADE: units, tolerance, names, instances.

#include <cmath>
#include <fstream>
#include <map>
#include <numbers>
#include <set>
#include <sstream>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "tests/io/read/body_files.h"
#include "tests/io/read/cad_files.h"

namespace standpoint {
namespace {

void expect_box(const BodyReport& report, const Vec3& low, const Vec3& high, double within) {
  EXPECT_LE((report.low - low).cwiseAbs().maxCoeff(), within) << report.low.transpose();
  EXPECT_LE((report.high - high).cwiseAbs().maxCoeff(), within) << report.high.transpose();
}

TEST(CadBody, UnitOfTheFileIsHonoured) {
  const TestFolder folder;
  for (const auto& [unit, mm] :
       {std::pair("MM", 1.0), std::pair("INCH", 25.4), std::pair("M", 1000.0)}) {
    BodyRequest request;
    request.file = folder / "box.step";
    write_bored_box(request.file, unit);
    const ReadBody body = read_well(request);
    expect_box(body.report, Vec3(0, 0, 0), Vec3(100, 80, 50), 1e-9);
    EXPECT_DOUBLE_EQ(body.report.mm_per_unit, mm);
    EXPECT_EQ(body.report.unit_source, "file");
    EXPECT_EQ(body.report.format, "STEP");
    EXPECT_EQ(body.mesh.face_names.size(), 7U);
    EXPECT_FALSE(body.report.defects.any()) << "a closed solid gives a closed mesh";
    EXPECT_TRUE(body.report.lost_faces.empty());
  }
}

TEST(CadBody, MeshUnitsReplaceTheUnitOfTheFileNotThatOfTheImporter) {
  const TestFolder folder;
  BodyRequest request;
  request.file = folder / "box.step";
  write_bored_box(request.file, "INCH");  // its numbers are 100/25.4 and so on
  request.mm_per_unit = 1000;
  request.chord_tolerance = 100;
  const ReadBody body = read_well(request);
  expect_box(body.report, Vec3(0, 0, 0), 1000 / 25.4 * Vec3(100, 80, 50), 1e-6);
  EXPECT_EQ(body.report.unit_source, "scene's mesh_units");
  ASSERT_TRUE(body.report.stated_mm_per_unit);
  EXPECT_DOUBLE_EQ(*body.report.stated_mm_per_unit, 25.4);
}

/// The greatest distance of the chords of a bore's wall from the true wall, mm.
double sagitta(const Mesh& mesh, const Vec2& axis, double radius) {
  double greatest = 0;
  for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
    const auto c = mesh.corners(i);
    for (std::size_t k = 0; k < 3; ++k) {
      const Vec2 a = c[k].head<2>() - axis;
      const Vec2 b = c[(k + 1) % 3].head<2>() - axis;
      if (std::abs(a.norm() - radius) < 1e-6 && std::abs(b.norm() - radius) < 1e-6) {
        greatest = std::max(greatest, radius - (0.5 * (a + b)).norm());
      }
    }
  }
  return greatest;
}

TEST(CadBody, ChordToleranceHoldsInTheScenesMillimetres) {
  const TestFolder folder;
  BodyRequest request;
  for (const auto& [unit, mesh_unit] : {std::pair("MM", 0.0), std::pair("M", 0.0),
                                        std::pair("INCH", 254.0), std::pair("MM", 0.1)}) {
    request.file = folder / "box.step";
    write_bored_box(request.file, unit);
    const double numbers = unit == std::string("MM") ? 1 : unit == std::string("M") ? 1000 : 25.4;
    const double scale = mesh_unit > 0 ? mesh_unit / numbers : 1;
    request.mm_per_unit = mesh_unit > 0 ? std::optional(mesh_unit) : std::nullopt;
    for (const double tolerance : {0.3, 0.1, 0.01, 0.001}) {
      request.chord_tolerance = tolerance;
      const double found = sagitta(read_well(request).mesh, scale * Vec2(40, 30), scale * 15);
      EXPECT_LE(found, tolerance) << unit << " " << tolerance;
      // And it is asked of the right length: not ten times too fine, unless by the largest turn of
      // 0.35 rad, whose sagitta is r (1 - cos(0.175)).
      EXPECT_GE(found, 0.1 * std::min(tolerance, scale * 15 * (1 - std::cos(0.175)))) << unit;
    }
  }
}

TEST(CadBody, RoundSolidsStayWithinTheirTolerance) {
  const TestFolder folder;
  BodyRequest request;
  request.file = folder / "round.step";
  write_round_solids(request.file);
  for (const double tolerance : {1.0, 0.2, 0.05}) {
    request.chord_tolerance = tolerance;
    const ReadBody body = read_well(request);
    EXPECT_FALSE(body.report.defects.any());
    double ball = 0;
    double ring = 0;
    double cone = 0;
    // Points of each triangle on a grid of its barycentric coordinates.
    for (std::size_t i = 0; i < body.mesh.triangles.size(); ++i) {
      const auto c = body.mesh.corners(i);
      for (int u = 0; u <= 6; ++u) {
        for (int v = 0; u + v <= 6; ++v) {
          const Vec3 p = (u * c[0] + v * c[1] + (6 - u - v) * c[2]) / 6;
          const Vec3 q = p - Vec3(p.x() < 500 ? 0 : p.x() < 1500 ? 1000 : 2000, 0, 0);
          const double around = q.head<2>().norm();
          if (p.x() < 500) {
            ball = std::max(ball, std::abs(q.norm() - 200));
          } else if (p.x() < 1500) {
            ring = std::max(ring, std::abs(std::hypot(around - 100, q.z()) - 25));
          } else if (q.z() > 1e-9 && q.z() < 120 - 1e-9) {
            // The cone's wall: r = 60 - z/3, its normal (3, 1)/sqrt(10) in (r, z).
            cone = std::max(cone, std::abs((around - 60 + q.z() / 3) * 3 / std::sqrt(10.0)));
          }
        }
      }
    }
    EXPECT_LE(ball, tolerance);
    EXPECT_LE(ring, tolerance);
    EXPECT_LE(cone, tolerance);
  }
}

TEST(CadBody, TrianglesFaceOutward) {
  const TestFolder folder;
  BodyRequest request;
  request.file = folder / "box.step";
  write_bored_box(request.file, "MM");
  const Mesh mesh = read_well(request).mesh;
  double six_volumes = 0;
  for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
    const auto c = mesh.corners(i);
    six_volumes += c[0].dot(c[1].cross(c[2]));
  }
  // The bore is a polygon within its circle, so the solid is a little too large, by less than the
  // bore's wall times the tolerance.
  const double volume = 100.0 * 80 * 50 - std::numbers::pi * 15 * 15 * 50;
  EXPECT_GE(six_volumes / 6, volume);
  EXPECT_LE(six_volumes / 6, volume + 0.1 * 2 * std::numbers::pi * 15 * 50);
}

TEST(CadBody, FacesAreNumberedInTheOrderOfTheFile) {
  const TestFolder folder;
  BodyRequest request;
  request.file = folder / "box.step";
  write_bored_box(request.file, "MM");
  const ReadBody plain = read_well(request);
  std::set<std::string> names(plain.mesh.face_names.begin(), plain.mesh.face_names.end());
  EXPECT_EQ(names, (std::set<std::string>{"face 1", "face 2", "face 3", "face 4", "face 5",
                                          "face 6", "face 7"}));
  // Name the fourth face and read again.
  std::stringstream text;
  text << std::ifstream(request.file).rdbuf();
  std::string step = text.str();
  std::size_t at = 0;
  for (int i = 0; i < 4; ++i) {
    at = step.find("ADVANCED_FACE('", at + 1);
    ASSERT_NE(at, std::string::npos);
  }
  step.insert(at + std::string("ADVANCED_FACE('").size(), "bore wall");
  request.file = folder.write("named.step", step);
  const ReadBody named = read_well(request);
  const auto& found = named.mesh.face_names;
  EXPECT_EQ(std::count(found.begin(), found.end(), "bore wall (face 4)"), 1);
  EXPECT_EQ(std::count(found.begin(), found.end(), "face 3"), 1);
}

TEST(CadBody, EveryPlacedInstanceIsThereUnderItsName) {
  const TestFolder folder;
  BodyRequest request;
  request.file = folder / "assembly.step";
  write_assembly(request.file);
  const ReadBody body = read_well(request);
  EXPECT_EQ(body.mesh.triangles.size(), 36U);
  EXPECT_EQ(body.mesh.face_names.size(), 18U);
  struct Box {
    Vec3 low = Vec3::Constant(1e9), high = Vec3::Constant(-1e9);
  };
  std::map<std::string, std::vector<Box>> found;
  for (std::size_t i = 0; i < body.mesh.triangles.size(); ++i) {
    const std::string& face = body.mesh.face_names[body.mesh.face_of_triangle[i]];
    auto& boxes = found[face.substr(face.find(" of ") + 4)];
    if (i % 12 == 0) {
      boxes.emplace_back();
    }
    for (const Vec3& c : body.mesh.corners(i)) {
      boxes.back().low = boxes.back().low.cwiseMin(c);
      boxes.back().high = boxes.back().high.cwiseMax(c);
    }
  }
  ASSERT_EQ(found["pin"].size(), 2U);
  ASSERT_EQ(found["plate"].size(), 1U);
  EXPECT_LE((found["pin"][0].low - Vec3(100, 0, 0)).norm(), 1e-9);
  EXPECT_LE((found["pin"][0].high - Vec3(110, 20, 30)).norm(), 1e-9);
  // (x, y) becomes (-y, x + 200).
  EXPECT_LE((found["pin"][1].low - Vec3(-20, 200, 0)).norm(), 1e-9);
  EXPECT_LE((found["pin"][1].high - Vec3(0, 210, 30)).norm(), 1e-9);
  EXPECT_LE((found["plate"][0].high - Vec3(300, 300, 5)).norm(), 1e-9);
}

TEST(CadBody, IgesIsReadInItsUnit) {
  const TestFolder folder;
  for (const auto& [unit, mm] : {std::pair("MM", 1.0), std::pair("IN", 25.4)}) {
    BodyRequest request;
    request.file = folder / "box.igs";
    write_bored_box_as_iges(request.file, unit);
    ReadBody body = read_well(request);
    expect_box(body.report, Vec3(0, 0, 0), Vec3(100, 80, 50), 1e-6);
    EXPECT_DOUBLE_EQ(body.report.mm_per_unit, mm) << unit;
    EXPECT_EQ(body.report.unit_source, "file");
    EXPECT_EQ(body.report.format, "IGES");
    EXPECT_EQ(body.mesh.face_names.size(), 7U);
    EXPECT_LE(sagitta(body.mesh, Vec2(40, 30), 15), 0.1);
    request.mm_per_unit = 2;
    body = read_well(request);
    expect_box(body.report, Vec3(0, 0, 0), 2 / mm * Vec3(100, 80, 50), 1e-6);
  }
}

TEST(CadBody, ReadingTwiceGivesTheSameBytes) {
  const TestFolder folder;
  BodyRequest request;
  request.file = folder / "round.step";
  write_round_solids(request.file);
  const ReadBody first = read_well(request);
  const ReadBody second = read_well(request);
  EXPECT_EQ(first.mesh.vertices, second.mesh.vertices);
  EXPECT_EQ(first.mesh.triangles, second.mesh.triangles);
  EXPECT_EQ(first.mesh.face_of_triangle, second.mesh.face_of_triangle);
  EXPECT_EQ(first.mesh.face_names, second.mesh.face_names);
}

}  // namespace
}  // namespace standpoint
