// CAD files as faces, and what is found on them.

#include "io/read/bodies/part_reader.h"

#include <algorithm>
#include <fstream>
#include <set>
#include <sstream>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "planner/part/feature_filter.h"
#include "planner/part/find_features.h"
#include "source_dir.h"
#include "tests/draw.h"
#include "tests/io/read/body_files.h"
#include "tests/io/read/cad_files.h"

namespace standpoint {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

ReadPart read_well(const std::filesystem::path& file) {
  auto read = read_part_faces(file);
  if (!read) {
    ADD_FAILURE() << file << ": " << read.error();
    return {};
  }
  return std::move(*read);
}

std::string error_of(const std::filesystem::path& file) {
  const auto read = read_part_faces(file);
  return read ? "read" : read.error();
}

std::vector<FoundFeature> rounds_of(const PartFaces& part) {
  auto found = find_features(part);
  std::erase_if(found, [](const FoundFeature& f) { return f.kind == FoundKind::plane; });
  return found;
}

void expect_near(const Vec3& found, const Vec3& expected) {
  EXPECT_LE((found - expected).norm(), 1e-6) << found.transpose();
}

void expect_bore(const PartFaces& part, const std::string& what) {
  const auto found = find_features(part);
  ASSERT_EQ(found.size(), 7U) << what << ": a hole and six planes";
  EXPECT_EQ(found[0].name, "hole-30-1") << what;
  EXPECT_NEAR(found[0].diameter, 30, 1e-6) << what;
  EXPECT_NEAR(found[0].depth, 50, 1e-6) << what;
  EXPECT_TRUE(found[0].through) << what;
  expect_near(found[0].centre, {40, 30, 50});
  expect_near(found[0].axis, Vec3::UnitZ());
}

TEST(PartReader, ABoredBoxIsAHoleAndSixPlanesInAnyUnitAndFormat) {
  const TestFolder folder;
  for (const char* unit : {"MM", "INCH", "M"}) {
    write_bored_box(folder / "box.step", unit);
    const ReadPart read = read_well(folder / "box.step");
    EXPECT_EQ(read.format, "STEP");
    EXPECT_EQ(read.solids, 1U);
    expect_bore(read.part, unit);
  }
  for (const char* unit : {"MM", "IN"}) {
    write_bored_box_as_iges(folder / "box.iges", unit);
    const ReadPart read = read_well(folder / "box.iges");
    EXPECT_EQ(read.format, "IGES");
    EXPECT_EQ(read.solids, 1U) << "its faces are sewn";
    EXPECT_EQ(read.loose_faces, 0U);
    expect_bore(read.part, std::string("IGES in ") + unit);
    // The numbers that the reader of its triangles gives, too.
    const auto body = read_plainly(folder / "box.iges");
    ASSERT_TRUE(body);
    std::set<std::string> numbers,
        names(body->mesh.face_names.begin(), body->mesh.face_names.end());
    for (const Face& face : read.part.faces) numbers.insert("face " + std::to_string(face.number));
    EXPECT_EQ(numbers, names);
  }
}

TEST(PartReader, SurfacesWrittenAsSplinesAreKnown) {
  const TestFolder folder;
  write_splined_box(folder / "box.step");
  expect_bore(read_well(folder / "box.step").part, "splines");
}

TEST(PartReader, FacesTellTheirMaterialsSideTheirAreaAndWhatIsBeyond) {
  const TestFolder folder;
  write_bored_box(folder / "box.step", "MM");
  const PartFaces part = read_well(folder / "box.step").part;
  ASSERT_EQ(part.faces.size(), 7U);
  for (const Face& face : part.faces) {
    const bool is_bore = face.surface.kind == SurfaceKind::cylinder;
    EXPECT_EQ(face.hollow, is_bore);
    if (is_bore) {
      EXPECT_NEAR(face.area, 2 * 3.14159265358979 * 15 * 50, 1e-3);
    } else {
      const Vec3 outward = face.surface.at - Vec3(50, 40, 25);
      EXPECT_GT(outward.dot(face.surface.axis), 0) << "out of the material";
    }
    for (const Loop& loop : face.loops)
      for (const Edge& edge : loop) {
        ASSERT_TRUE(edge.beyond);
        const bool is_seam = part.faces[*edge.beyond].number == face.number;
        EXPECT_EQ(edge.bend, is_seam ? EdgeBend::smooth : EdgeBend::convex);
        EXPECT_GE(edge.points.size(), 2U);
      }
  }
}

TEST(PartReader, AWorkedPlateIsFoundAsItWasMade) {
  const TestFolder folder;
  write_worked_plate(folder / "plate.step");
  const auto found = rounds_of(read_well(folder / "plate.step").part);
  std::vector<std::string> names;
  for (const FoundFeature& f : found) names.push_back(f.name);
  ASSERT_THAT(names, ElementsAre("hole-12-1", "hole-16-1", "slot-10x30-1", "boss-14-1"));
  ASSERT_EQ(found[0].steps.size(), 2U);
  EXPECT_NEAR(found[0].steps[0].diameter, 20, 1e-6);
  EXPECT_NEAR(found[0].steps[0].depth, 8, 1e-6);
  EXPECT_NEAR(found[0].steps[1].depth, 22, 1e-6);
  expect_near(found[0].centre, {30, 20, 22});
  EXPECT_TRUE(found[0].through);
  EXPECT_TRUE(found[1].tip);
  EXPECT_FALSE(found[1].through);
  EXPECT_NEAR(found[1].depth, 18, 1e-6);
  expect_near(found[1].centre, {80, 40, 30});
  expect_near(found[2].centre, {40, 60, 30});
  EXPECT_TRUE(found[2].through);
  expect_near(found[3].centre, {105, 65, 36});
}

/// The demo's part and the features that its generator wrote into the scene beside it.
TEST(PartReader, TheBedplatesHolesAreThoseOfItsScene) {
  const auto folder = source_dir() / "scenes" / "demo";
  std::stringstream text;
  text << std::ifstream(folder / "scene.json", std::ios::binary).rdbuf();
  const auto scene = nlohmann::json::parse(text.str());
  const auto found = find_features(read_well(folder / "bedplate.step").part);
  const auto& pose = scene["bodies"][0]["pose"]["translate"];
  const Vec3 shift(pose[0], pose[1], pose[2]);
  std::size_t holes = 0;
  for (const auto& feature : scene["features"]) {
    const std::string type = feature["type"];
    if (type != "hole" && type != "cylinder" && type != "sphere") continue;
    holes += type == "hole" ? 1 : 0;
    const auto& c = feature["centre"];
    const Vec3 centre = Vec3(c[0], c[1], c[2]) - shift;
    const double diameter = feature["diameter"];
    EXPECT_TRUE(std::any_of(found.begin(), found.end(), [&](const FoundFeature& f) {
      const bool same_kind = type == "hole"     ? f.kind == FoundKind::hole
                             : type == "sphere" ? f.kind == FoundKind::sphere
                                                : f.kind == FoundKind::cylinder;
      const Vec3 off = f.centre - centre;
      const double beside = type == "cylinder" ? f.axis.cross(off).norm() : off.norm();
      return same_kind && std::abs(f.diameter - diameter) < 1e-6 && beside < 1e-3;
    })) << feature["name"];
  }
  EXPECT_GT(holes, 20U);
  EXPECT_EQ(std::count_if(found.begin(), found.end(),
                          [](const auto& f) { return f.kind == FoundKind::hole; }),
            static_cast<std::ptrdiff_t>(holes))
      << "and no others";
}

TEST(PartReader, RoundSolidsAreASphereAndACone) {
  const TestFolder folder;
  write_round_solids(folder / "round.step");
  const auto found = rounds_of(read_well(folder / "round.step").part);
  ASSERT_EQ(found.size(), 2U) << "a ring is none of the kinds";
  EXPECT_EQ(found[0].name, "cone-80-1");
  EXPECT_NEAR(found[0].length, 120, 1e-6);
  EXPECT_NEAR(found[0].angle_rad, 2 * std::atan2(40, 120), 1e-9);
  expect_near(found[0].centre, {2000, 0, 60});
  expect_near(found[0].axis, Vec3::UnitZ());
  EXPECT_EQ(found[1].name, "sphere-400-1");
  expect_near(found[1].centre, Vec3::Zero());
}

TEST(PartReader, PartsOfAnAssemblyKeepTheirNamesAndPlaces) {
  const TestFolder folder;
  write_assembly(folder / "assembly.step");
  const ReadPart read = read_well(folder / "assembly.step");
  EXPECT_EQ(read.solids, 3U);
  const auto found = find_features(read.part);
  EXPECT_EQ(found.size(), 18U);
  const auto pins =
      std::count_if(found.begin(), found.end(), [](const auto& f) { return f.component == "pin"; });
  EXPECT_EQ(pins, 12);
  // The second pin, turned by 90 degrees about z: what was its x face looks along y.
  EXPECT_TRUE(std::any_of(found.begin(), found.end(), [](const FoundFeature& f) {
    return f.component == "pin" && (f.axis - Vec3::UnitY()).norm() < 1e-9 &&
           std::abs(f.centre.y() - 210) < 1e-6;
  }));
}

TEST(PartReader, WhatHasNoSolidSaysSo) {
  const TestFolder folder;
  write_open_box(folder / "open.step");
  EXPECT_THAT(error_of(folder / "open.step"), HasSubstr("6 faces but no solid"));
  write_loose_edge(folder / "edge.step");
  EXPECT_THAT(error_of(folder / "edge.step"), HasSubstr("no faces"));
}

TEST(PartReader, WhatIsNoCadFileSaysSo) {
  const TestFolder folder;
  EXPECT_THAT(error_of(folder / "none.step"), HasSubstr("no such file"));
  EXPECT_THAT(error_of(folder.write("empty.step", "")), HasSubstr("empty"));
  EXPECT_THAT(error_of(folder.write("text.step", "not a STEP file")), HasSubstr("not a readable"));
  EXPECT_THAT(error_of(folder.write("text.iges", "not an IGES file")), testing::Not("read"));
  EXPECT_THAT(error_of(folder.write("part.prt", "x")), HasSubstr("files of this kind"));
}

/// A file that ends anywhere, or in which bytes were changed, gives a sentence or faces: the
/// program lives on.
TEST(PartReader, BrokenFilesDoNoHarm) {
  const TestFolder folder;
  write_worked_plate(folder / "plate.step");
  std::stringstream text;
  text << std::ifstream(folder / "plate.step", std::ios::binary).rdbuf();
  const std::string whole = text.str();
  for (std::uint64_t seed = 1; seed <= 12; ++seed) {
    test::Draw draw(seed);
    std::string broken = whole;
    if (draw.chance(0.3)) broken.resize(draw.below(broken.size()));
    for (std::size_t n = draw.below(20); n > 0 && !broken.empty(); --n)
      broken[draw.below(broken.size())] = "0123456789#(),;.'$-"[draw.below(19)];
    const auto read = read_part_faces(folder.write("broken.step", broken));
    if (read) {
      for (const FoundFeature& f : find_features(read->part)) {
        EXPECT_TRUE(f.centre.allFinite()) << "seed " << seed;
        EXPECT_FALSE(f.name.empty()) << "seed " << seed;
      }
    } else {
      EXPECT_FALSE(read.error().empty()) << "seed " << seed;
    }
  }
}

}  // namespace
}  // namespace standpoint
