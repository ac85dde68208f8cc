// Mesh files through Assimp: the same block from every format, units, names, placement.

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <minizip/zip.h>

#include "tests/io/read/body_files.h"

namespace standpoint {
namespace {

ReadBody read_well(const std::filesystem::path& file) {
  BodyRequest request;
  request.file = file;
  return read_well(request);
}

TEST(MeshBody, EveryFormatGivesTheSameBlock) {
  const TestFolder folder;
  struct Case {
    std::string name, bytes, format;
    double mm_per_unit;
    std::string unit_source;
  };
  const std::string scene = "scene's units";
  const Case cases[] = {
      {"text.stl", block_as_stl_text(), "STL", 1, scene},
      {"binary.stl", block_as_stl_binary(), "STL", 1, scene},
      {"UPPER.STL", block_as_stl_binary(), "STL", 1, scene},
      {"block.obj", block_as_obj(), "OBJ", 1, scene},
      {"text.ply", block_as_ply_text(), "PLY", 1, scene},
      {"binary.ply", block_as_ply_binary(), "PLY", 1, scene},
      {"block.off", block_as_off(), "OFF", 1, scene},
      // glTF 2.0, section 3.4: "The units for all linear distances are meters."
      {"block.gltf", block_as_gltf(), "glTF", 1000, "file"},
      {"inch.dae", block_as_collada("<unit meter=\"0.0254\"/>", "Z_UP"), "COLLADA", 25.4, "file"},
      {"cm.dae", block_as_collada("<unit meter=\"0.01\"/>", "Y_UP"), "COLLADA", 10, "file"},
      {"x-up.dae", block_as_collada("<unit meter=\"1\"/>", "X_UP"), "COLLADA", 1000, "file"},
      // COLLADA 1.4.1 specification, <unit>: the default is 1.0 metre.
      {"none.dae", block_as_collada("", "Z_UP"), "COLLADA", 1000, "file"},
      // ISO/ASTM 52915: without `unit`, millimetres.
      {"none.amf", block_as_amf(""), "AMF", 1, "file"},
      {"inch.amf", block_as_amf("unit=\"inch\""), "AMF", 25.4, "file"},
      {"metre.amf", block_as_amf("unit='meter' version='1.1'"), "AMF", 1000, "file"},
      {"cm.fbx", block_as_fbx(1), "FBX", 10, "file"},
      {"inch.fbx", block_as_fbx(2.54), "FBX", 25.4, "file"},
  };
  for (const Case& c : cases) {
    const ReadBody body = read_well(folder.write(c.name, c.bytes));
    expect_same_surface(body.mesh, block(), c.mm_per_unit, c.name);
    EXPECT_EQ(body.report.format, c.format) << c.name;
    EXPECT_EQ(body.report.mm_per_unit, c.mm_per_unit) << c.name;
    EXPECT_EQ(body.report.unit_source, c.unit_source) << c.name;
    EXPECT_EQ(body.report.low, c.mm_per_unit * Vec3(1, 2, 3)) << c.name;
    EXPECT_EQ(body.report.high, c.mm_per_unit * Vec3(3, 5, 7)) << c.name;
    EXPECT_FALSE(body.report.defects.any()) << c.name;
  }
}

TEST(MeshBody, MeshUnitsWinOverTheFileAndTheSceneComesLast) {
  const TestFolder folder;
  BodyRequest request;
  request.default_mm_per_unit = 25.4;
  request.file = folder.write("block.stl", block_as_stl_binary());
  expect_same_surface(read_well(request).mesh, block(), 25.4, "scene's units");
  request.mm_per_unit = 1000;
  ReadBody body = read_well(request);
  expect_same_surface(body.mesh, block(), 1000, "mesh_units over nothing");
  EXPECT_EQ(body.report.unit_source, "scene's mesh_units");
  EXPECT_FALSE(body.report.stated_mm_per_unit);
  for (const auto& [name, bytes] :
       {std::pair("block.gltf", block_as_gltf()), std::pair("block.fbx", block_as_fbx(1)),
        std::pair("block.dae", block_as_collada("<unit meter=\"0.01\"/>", "X_UP"))}) {
    request.file = folder.write(name, bytes);
    request.mm_per_unit = 2;
    body = read_well(request);
    expect_same_surface(body.mesh, block(), 2, name);
    EXPECT_EQ(body.report.unit_source, "scene's mesh_units");
    EXPECT_EQ(body.report.stated_mm_per_unit, name == std::string("block.gltf") ? 1000 : 10);
    request.mm_per_unit.reset();
    EXPECT_EQ(read_well(request).report.unit_source, "file");
  }
}

TEST(MeshBody, UpAxisIsToldAndNothingIsTurned) {
  const TestFolder folder;
  for (const char axis : {'X', 'Y', 'Z'}) {
    const ReadBody body = read_well(folder.write(
        "up.dae", block_as_collada("<unit meter=\"0.001\"/>", axis + std::string("_UP"))));
    EXPECT_EQ(body.report.up_axis, axis);
    EXPECT_EQ(body.report.low, Vec3(1, 2, 3));
  }
  EXPECT_EQ(read_well(folder.write("up.gltf", block_as_gltf())).report.up_axis, 'Y');
  EXPECT_EQ(read_well(folder.write("up.fbx", block_as_fbx(1))).report.up_axis, 'Z');
  EXPECT_EQ(read_well(folder.write("up.stl", block_as_stl_text())).report.up_axis, ' ');
}

TEST(MeshBody, PoseTurnsThenMoves) {
  const TestFolder folder;
  BodyRequest request;
  request.file = folder.write("block.obj", block_as_obj());
  request.mm_per_unit = 10;
  request.world_from_body.linear() << 0, -1, 0, 1, 0, 0, 0, 0, 1;  // a quarter turn about z
  request.world_from_body.translation() = Vec3(1000, 0, -5);
  const ReadBody body = read_well(request);
  // (x, y, z) of the block, 10 mm a unit, becomes (1000 - y, x, z - 5).
  EXPECT_EQ(body.report.low, Vec3(1000 - 50, 10, 30 - 5));
  EXPECT_EQ(body.report.high, Vec3(1000 - 20, 30, 70 - 5));
  Mesh expected = block();
  for (Vec3& v : expected.vertices) {
    v = Vec3(1000 - 10 * v.y(), 10 * v.x(), 10 * v.z() - 5);
  }
  expect_same_surface(body.mesh, expected, 1, "placed");
}

TEST(MeshBody, FacesBearTheFilesNames) {
  const TestFolder folder;
  std::string obj = block_as_obj();
  obj.insert(obj.find("f 3 7 4"), "g far wall\n");  // the seventh triangle
  ReadBody body = read_well(folder.write("groups.obj", obj));
  ASSERT_EQ(body.mesh.face_names, (std::vector<std::string>{"invented_block", "far wall"}));
  ASSERT_EQ(body.mesh.face_of_triangle.size(), 12U);
  for (std::size_t i = 0; i < 12; ++i) {
    EXPECT_EQ(body.mesh.face_of_triangle[i], i < 6 ? 0U : 1U);
  }
  EXPECT_EQ(body.mesh.vertices.size(), 8U) << "corners of different groups at one place are one";

  body = read_well(folder.write("named.gltf", block_as_gltf()));
  EXPECT_EQ(body.mesh.face_names, std::vector<std::string>{"invented block"});
  body = read_well(folder.write("nameless.stl", block_as_stl_binary()));
  EXPECT_EQ(body.mesh.face_names, std::vector<std::string>{"mesh 1"});
}

TEST(MeshBody, QuadsAndConcavePolygonsAreCut) {
  const TestFolder folder;
  // A quad, and an L of six corners around (0, 0), in the plane z = 1: areas 1 and 3.
  const ReadBody body = read_well(
      folder.write("polygons.off",
                   "OFF\n10 2 0\n5 0 1\n6 0 1\n6 1 1\n5 1 1\n0 0 1\n2 0 1\n2 1 1\n1 1 1\n1 2 1\n"
                   "0 2 1\n4 0 1 2 3\n6 4 5 6 7 8 9\n"));
  EXPECT_EQ(body.mesh.triangles.size(), 6U);
  double area = 0;
  for (std::size_t i = 0; i < body.mesh.triangles.size(); ++i) {
    const auto c = body.mesh.corners(i);
    area += 0.5 * (c[1] - c[0]).cross(c[2] - c[0]).z();
  }
  EXPECT_EQ(area, 4);
  EXPECT_EQ(body.report.fanned_polygons, 0U);
}

TEST(MeshBody, LinesAndPointsAreLeftOut) {
  const TestFolder folder;
  const ReadBody body = read_well(
      folder.write("loose.obj", block_as_obj() + "v 100 100 100\nv 200 0 0\nl 9 10\np 9\n"));
  expect_same_surface(body.mesh, block(), 1, "loose parts");
  EXPECT_EQ(body.report.high, Vec3(3, 5, 7));
}

TEST(MeshBody, NodesArePlacedAndMirroredOnesKeepTheirOutside) {
  const TestFolder folder;
  std::string gltf = block_as_gltf();
  const std::string nodes = R"("nodes":[{"name":"place","mesh":0}])";
  gltf.replace(gltf.find(nodes), nodes.size(),
               R"("nodes":[{"mesh":0,"scale":[-1,1,1],"translation":[10,0,0]}])");
  const ReadBody body = read_well(folder.write("mirrored.gltf", gltf));
  Mesh expected = block();
  for (Vec3& v : expected.vertices) {
    v.x() = 10 - v.x();
  }
  for (auto& t : expected.triangles) {
    std::swap(t[1], t[2]);
  }
  expect_same_surface(body.mesh, expected, 1000, "mirrored");
}

/// A 3MF package with nothing but its model, and that is all the importer asks for.
std::filesystem::path write_3mf(const TestFolder& folder, const std::string& name,
                                const std::string& unit) {
  std::string model = fmt::format(
      "<?xml version=\"1.0\"?>\n<model {} "
      "xmlns=\"http://schemas.microsoft.com/3dmanufacturing/core/2015/"
      "02\"><resources><object id=\"1\" type=\"model\"><mesh><vertices>",
      unit);
  for (const Vec3& v : block().vertices) {
    model += fmt::format("<vertex x=\"{}\" y=\"{}\" z=\"{}\"/>", v.x(), v.y(), v.z());
  }
  model += "</vertices><triangles>";
  for (const auto& t : block().triangles) {
    model += fmt::format("<triangle v1=\"{}\" v2=\"{}\" v3=\"{}\"/>", t[0], t[1], t[2]);
  }
  model += "</triangles></mesh></object></resources><build><item objectid=\"1\"/></build></model>";
  const std::string links =
      "<?xml version=\"1.0\"?>\n<Relationships "
      "xmlns=\"http://schemas.openxmlformats.org/package/2006/"
      "relationships\"><Relationship Target=\"/3D/3dmodel.model\" Id=\"rel0\" "
      "Type=\"http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel\"/></Relationships>";
  const std::filesystem::path file = folder / name;
  const zipFile zip = zipOpen64(file.c_str(), APPEND_STATUS_CREATE);
  for (const auto& [member, text] :
       {std::pair("_rels/.rels", links), std::pair("3D/3dmodel.model", model)}) {
    zipOpenNewFileInZip64(zip, member, nullptr, nullptr, 0, nullptr, 0, nullptr, Z_DEFLATED, 6, 0);
    zipWriteInFileInZip(zip, text.data(), static_cast<unsigned>(text.size()));
    zipCloseFileInZip(zip);
  }
  zipClose(zip, nullptr);
  return file;
}

// 3MF core specification, 3.4: millimeter is the default; micron, centimeter, inch, foot, meter.
TEST(MeshBody, UnitOfA3mfPackageIsHonoured) {
  const TestFolder folder;
  for (const auto& [unit, mm] :
       {std::pair("", 1.0), std::pair("unit=\"millimeter\"", 1.0), std::pair("unit=\"inch\"", 25.4),
        std::pair("unit=\"micron\"", 0.001)}) {
    const ReadBody body = read_well(write_3mf(folder, "block.3mf", unit));
    EXPECT_EQ(body.report.mm_per_unit, mm) << unit;
    EXPECT_EQ(body.report.unit_source, "file");
    EXPECT_EQ(body.report.format, "3MF");
    expect_same_surface(body.mesh, block(), mm, unit);
  }
}

// Measured from the files by a program of its own: the STL files' own floats, min and max.
TEST(MeshBody, RobotLinksInMetresTakeMeshUnits) {
  const auto link = shared_data("robot/base_link.stl");
  if (!link) {
    GTEST_SKIP() << "shared data robot/base_link.stl is not here";
  }
  BodyRequest request;
  request.file = *link;
  request.mm_per_unit = 1000;
  const ReadBody body = read_well(request);
  // A robot's foot: between 10 cm and 2 m in every direction. As millimetres it would be a crumb.
  const Vec3 size = body.report.high - body.report.low;
  EXPECT_GT(size.minCoeff(), 100);
  EXPECT_LT(size.maxCoeff(), 2000);
  EXPECT_EQ(body.report.unit_source, "scene's mesh_units");
}

TEST(MeshBody, WarehouseShelfHasTheUnitAndPlaceOfItsFile) {
  const auto shelf = shared_data(
      "warehouse/models/aws_robomaker_warehouse_ShelfF_01/meshes/"
      "aws_robomaker_warehouse_ShelfF_01_collision.DAE");
  if (!shelf) {
    GTEST_SKIP() << "shared data warehouse/ is not here";
  }
  const ReadBody body = read_well(*shelf);
  EXPECT_EQ(body.report.mm_per_unit, 10) << "its <unit> says centimetre";
  EXPECT_EQ(body.report.up_axis, 'Z');
  // In its text, cm: x from -109.909821 to 100.279144, y from -899.415955 to 905.263123, z from 0
  // to 652.940002; its node moves by (5.565 58, -2.923 61, 0).
  const Vec3 size = body.report.high - body.report.low;
  EXPECT_NEAR(size.x(), 10 * (100.279144 + 109.909821), 1e-3);
  EXPECT_NEAR(size.y(), 10 * (905.263123 + 899.415955), 1e-3);
  EXPECT_NEAR(size.z(), 6529.40002, 1e-3);
}

}  // namespace
}  // namespace standpoint
