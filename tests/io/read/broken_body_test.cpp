// Files that are missing, damaged, lying or empty of surfaces: each gives a sentence, none a crash.

#include <cmath>
#include <cstring>
#include <fstream>
#include <sstream>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include "tests/draw.h"
#include "tests/io/read/body_files.h"
#include "tests/io/read/cad_files.h"

namespace standpoint {
namespace {

using testing::HasSubstr;
using testing::Not;

/// The sentence that the file is refused with.
std::string refusal(const std::filesystem::path& file) {
  const auto body = read_plainly(file);
  if (body) {
    ADD_FAILURE() << file << " was read";
    return {};
  }
  EXPECT_THAT(body.error(), Not(HasSubstr("\n"))) << file;
  EXPECT_FALSE(body.error().empty()) << file;
  return body.error();
}

constexpr const char* kExtensions[] = {".step", ".stp", ".iges", ".igs",  ".stl", ".obj",
                                       ".ply",  ".off", ".3mf",  ".gltf", ".glb", ".dae",
                                       ".fbx",  ".amf", ".ifc",  ".x3d",  ".3ds", ".blend"};

TEST(BrokenBody, WhatIsNotAFileIsNamed) {
  const TestFolder folder;
  std::filesystem::create_directory(folder / "folder.stl");
  EXPECT_EQ(refusal(folder / "none.stl"), "there is no such file");
  EXPECT_EQ(refusal(folder / "folder.stl"), "it is a folder, not a file");
  EXPECT_EQ(refusal("/dev/null"), "it is not a regular file");
  EXPECT_THAT(refusal(folder.write("notes.txt", "hello")), HasSubstr("STEP (.step .stp), IGES"));
  EXPECT_THAT(refusal(folder.write("noextension", "hello")), HasSubstr("STL, OBJ, PLY, OFF"));
}

TEST(BrokenBody, UnreadableFileIsNamed) {
  if (::geteuid() == 0) {
    GTEST_SKIP() << "the superuser may read anything";
  }
  const TestFolder folder;
  const auto file = folder.write("secret.obj", block_as_obj());
  std::filesystem::permissions(file, std::filesystem::perms::none);
  EXPECT_EQ(refusal(file), "it cannot be opened for reading");
}

TEST(BrokenBody, ImpossibleRequestsAreRefused) {
  const TestFolder folder;
  BodyRequest request;
  request.file = folder.write("block.obj", block_as_obj());
  for (const double wrong : {0.0, -1.0, std::nan(""), HUGE_VAL}) {
    BodyRequest bad = request;
    bad.mm_per_unit = wrong;
    EXPECT_FALSE(read_body(bad)) << wrong;
    bad = request;
    bad.default_mm_per_unit = wrong;
    EXPECT_FALSE(read_body(bad)) << wrong;
    bad = request;
    bad.chord_tolerance = wrong;
    EXPECT_FALSE(read_body(bad)) << wrong;
  }
}

TEST(BrokenBody, EmptyFilesAndGarbageOfEveryKindGiveASentence) {
  const TestFolder folder;
  test::Draw draw(1);
  std::string noise(5000, '\0');
  for (char& c : noise) {
    c = static_cast<char>(draw.below(256));
  }
  const std::string words = "What stands here is plain prose, and no surface at all.\nNot one.\n";
  for (const std::string extension : kExtensions) {
    EXPECT_EQ(refusal(folder.write("empty" + extension, "")), "it is empty");
    EXPECT_NE(refusal(folder.write("words" + extension, words)), "") << extension;
    EXPECT_NE(refusal(folder.write("noise" + extension, noise)), "") << extension;
    EXPECT_NE(refusal(folder.write("byte" + extension, "\n")), "") << extension;
  }
}

TEST(BrokenBody, FilesCutShortNeverPassForWhole) {
  const TestFolder folder;
  EXPECT_THAT(refusal(folder.write("cut.stl", block_as_stl_binary().substr(0, 400))),
              HasSubstr("12 triangles, which takes at least 684 bytes, but the file has 400"));
  EXPECT_THAT(refusal(folder.write("cut.stl", block_as_stl_binary().substr(0, 60))),
              HasSubstr("too few for the header"));
  for (const auto& [name, whole] :
       {std::pair("cut.stl", block_as_stl_text()), std::pair("cut.ply", block_as_ply_binary()),
        std::pair("cut.ply", block_as_ply_text()), std::pair("cut.off", block_as_off())}) {
    ASSERT_TRUE(read_plainly(folder.write(name, whole))) << name;
    for (std::size_t cut = name == std::string("cut.stl") ? 24 : 2; cut + 8 < whole.size();
         cut += 5) {
      EXPECT_NE(refusal(folder.write(name, whole.substr(0, whole.size() - cut))), "")
          << name << cut;
    }
  }
  EXPECT_NE(refusal(folder.write("cut.gltf", block_as_gltf().substr(0, 300))), "");
  EXPECT_NE(refusal(folder.write("cut.dae", block_as_collada("", "Z_UP").substr(0, 700))), "");
}

// What a header declares is held against the file before an importer takes memory for it.
TEST(BrokenBody, LiesInHeadersAreRefusedBeforeMemoryIsTaken) {
  const TestFolder folder;
  std::string stl = block_as_stl_binary();
  stl.replace(80, 4, "\xff\xff\xff\xff");
  EXPECT_THAT(refusal(folder.write("lie.stl", stl)), HasSubstr("4294967295 triangles"));
  for (const char* counts : {"2000000000 12 0", "8 2000000000 0", "99999999999999999999 12 0",
                             "1e300 12 0", "-5 12 0"}) {
    const std::string off = block_as_off();
    const std::string lie = fmt::format("OFF {}\n{}", counts, off.substr(off.find("1 2 3")));
    EXPECT_THAT(refusal(folder.write("lie.off", lie)), HasSubstr("its header declares")) << counts;
  }
  for (const std::string& honest : {block_as_ply_text(), block_as_ply_binary()}) {
    for (const auto& [from, to] :
         {std::pair("vertex 8", "vertex 1999999999"), std::pair("face 12", "face 1999999999")}) {
      std::string ply = honest;
      ply.replace(ply.find(from), std::string(from).size(), to);
      EXPECT_THAT(refusal(folder.write("lie.ply", ply)), HasSubstr("1999999999 of '")) << to;
    }
  }
}

// Assimp 5.2.5 leaves such faces out and says so only in its log.
TEST(BrokenBody, FacesThatTheImporterLeavesOutAreNotPassedOver) {
  const TestFolder folder;
  std::string off = "OFF\n12 1 0\n";
  std::string corners = "12";
  for (int i = 0; i < 12; ++i) {
    off += fmt::format("{} {} 0\n", std::cos(0.5 * i), std::sin(0.5 * i));
    corners += fmt::format(" {}", i);
  }
  EXPECT_THAT(refusal(folder.write("twelve.off", off + corners)),
              HasSubstr("leaves out part of it"));
}

TEST(BrokenBody, HonestHeadersOfTheShortestFilesPass) {
  const TestFolder folder;
  EXPECT_TRUE(read_plainly(folder.write("least.off", "OFF\n3 1 0\n0 0 0\n1 0 0\n0 1 0\n3 0 1 2")));
  EXPECT_TRUE(read_plainly(
      folder.write("least.ply",
                   "ply\nformat ascii 1.0\nelement vertex 3\nproperty float x\nproperty float y\n"
                   "property float z\nelement face 1\nproperty list uchar int vertex_indices\n"
                   "end_header\n0 0 0\n1 0 0\n0 1 0\n3 0 1 2")));
}

TEST(BrokenBody, NumbersThatAreNotFiniteAreCountedNotRepaired) {
  const TestFolder folder;
  std::string stl = block_as_stl_binary();
  const float nan = std::nanf("");
  const float infinity = HUGE_VALF;
  std::memcpy(stl.data() + 84 + 12, &nan, 4);
  std::memcpy(stl.data() + 84 + 50 + 12, &infinity, 4);
  EXPECT_THAT(refusal(folder.write("nan.stl", stl)),
              HasSubstr("2 of its 10 vertices are not finite"));
}

TEST(BrokenBody, MeshesWithoutTrianglesAreSaidToHaveNone) {
  const TestFolder folder;
  EXPECT_EQ(refusal(folder.write("points.obj", "v 1 2 3\nv 2 3 4\nl 1 2\n")),
            "it holds no triangles");
  // Bones alone: no surface is made up for them.
  EXPECT_EQ(
      refusal(folder.write("bones.bvh",
                           "HIERARCHY\nROOT hip\n{\nOFFSET 0 0 0\nCHANNELS 3 Zrotation Xrotation "
                           "Yrotation\nEnd Site\n{\nOFFSET 0 5 0\n}\n}\nMOTION\nFrames: 1\nFrame "
                           "Time: 0.1\n0 0 0\n")),
      "it holds no triangles");
}

TEST(BrokenBody, IndicesOutOfRangeGiveASentence) {
  const TestFolder folder;
  EXPECT_NE(refusal(folder.write("out.obj", "v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 99\n")), "");
  std::string gltf = block_as_gltf();
  gltf.replace(gltf.find("\"count\":8"), 9, "\"count\":4");
  EXPECT_NE(refusal(folder.write("out.gltf", gltf)), "");
  gltf = block_as_gltf();
  gltf.replace(gltf.find("\"count\":36"), 10, "\"count\":99999999");
  EXPECT_NE(refusal(folder.write("out.gltf", gltf)), "");
}

TEST(BrokenBody, StepWithoutFacesSaysSo) {
  const TestFolder folder;
  write_loose_edge(folder / "edge.step");
  EXPECT_THAT(refusal(folder / "edge.step"), HasSubstr("no faces"));
  // The null shape: a whole file of products without any shape.
  EXPECT_NE(refusal(folder.write(
                "null.step",
                "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION((''),'2;1');\nFILE_NAME('','',"
                "(''),(''),'','','');\nFILE_SCHEMA(('AUTOMOTIVE_DESIGN'));\nENDSEC;\nDATA;"
                "\n#1=APPLICATION_CONTEXT('');\nENDSEC;\nEND-ISO-10303-21;\n")),
            "");
}

TEST(BrokenBody, StepOfTrianglesOnlySaysWhatToDo) {
  const TestFolder folder;
  const auto file = folder.write("tessellated.step", R"(ISO-10303-21;
HEADER;
FILE_DESCRIPTION(('invented'),'2;1');
FILE_NAME('','',(''),(''),'','','');
FILE_SCHEMA(('AP242_MANAGED_MODEL_BASED_3D_ENGINEERING_MIM_LF { 1 0 10303 442 1 1 4 }'));
ENDSEC;
DATA;
#1=APPLICATION_CONTEXT('managed model based 3d engineering');
#2=PRODUCT_CONTEXT('',#1,'mechanical');
#3=PRODUCT('p','p','',(#2));
#4=PRODUCT_DEFINITION_FORMATION('','',#3);
#5=PRODUCT_DEFINITION_CONTEXT('part definition',#1,'design');
#6=PRODUCT_DEFINITION('','',#4,#5);
#7=PRODUCT_DEFINITION_SHAPE('','',#6);
#8=SHAPE_DEFINITION_REPRESENTATION(#7,#9);
#9=TESSELLATED_SHAPE_REPRESENTATION('',(#20),#10);
#10=(GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNIT_ASSIGNED_CONTEXT((#11,#12,#13))REPRESENTATION_CONTEXT('',''));
#11=(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.));
#12=(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.));
#13=(NAMED_UNIT(*)SI_UNIT($,.STERADIAN.)SOLID_ANGLE_UNIT());
#20=TESSELLATED_SOLID('',(#21),$);
#21=TRIANGULATED_FACE('',#30,4,(),$,(),((1,3,2),(1,2,4),(2,3,4),(3,1,4)));
#30=COORDINATES_LIST('',4,((0.,0.,0.),(10.,0.,0.),(0.,10.,0.),(0.,0.,10.)));
ENDSEC;
END-ISO-10303-21;
)");
  EXPECT_THAT(refusal(file), HasSubstr("triangles only"));
}

TEST(BrokenBody, StepThatRefersToMissingFilesNamesThem) {
  const TestFolder folder;
  write_assembly_of_files(folder / "whole.step");
  const auto whole = read_plainly(folder / "whole.step");
  ASSERT_TRUE(whole) << whole.error();
  EXPECT_EQ(whole->mesh.triangles.size(), 36U);
  std::filesystem::remove(folder / "part-pin.stp");
  EXPECT_THAT(refusal(folder / "whole.step"), HasSubstr("part-pin.stp"));
}

TEST(BrokenBody, DamagedStepNeverCrashes) {
  const TestFolder folder;
  write_bored_box(folder / "box.step", "MM");
  std::stringstream text;
  text << std::ifstream(folder / "box.step").rdbuf();
  const std::string whole = text.str();
  for (std::uint32_t seed = 1; seed <= 60; ++seed) {
    test::Draw draw(seed);
    std::string damaged = whole;
    for (int i = 0; i < 1 + static_cast<int>(seed % 20); ++i) {
      // Digits and signs, so that most of it stays a STEP file with wrong references and numbers.
      damaged[draw.below(damaged.size())] = "0123456789#,.()$*-E;"[draw.below(20)];
    }
    if (seed % 10 == 0) {
      damaged.resize(draw.below(damaged.size()));
    }
    const auto body = read_plainly(folder.write("damaged.step", damaged));
    if (body) {
      EXPECT_GT(body->mesh.triangles.size(), 0U) << "seed " << seed;
    } else {
      EXPECT_FALSE(body.error().empty()) << "seed " << seed;
    }
  }
}

}  // namespace
}  // namespace standpoint
