// `pack`, and every command with what it makes.

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "io/read/files/scene_pieces.h"
#include "io/read/files/unpacked_scene.h"
#include "tests/io/cli/whole_program.h"
#include "tests/io/read/body_files.h"

namespace standpoint {
namespace {

namespace fs = std::filesystem;
using Json = nlohmann::json;

class PackRun : public WholeProgram {
 protected:
  PackRun() {
    fs::create_directories(folder_ / "hall/meshes");
    put("hall/meshes/block.stl", block_as_stl_binary());
    put("block.obj", block_as_obj());
    put("hall/block.obj", block_as_obj());
    put("hall/hall.json", R"({"format": "standpoint-scene", "version": 1, "units": "m",
      "bodies": [{"name": "one", "role": "fixture", "mesh": "meshes/block.stl", "mesh_units": "mm"},
                 {"name": "again", "role": "fixture", "mesh": "block.obj", "mesh_units": "mm",
                  "pose": {"translate": [0.1, 0, 0]}}]})");
    put("job.json", R"({"$schema": "/home/x/scene.schema.json",
      "format": "standpoint-scene", "version": 1, "units": "mm", "include": ["hall/hall.json"],
      "instrument": {"beam": {"diameter": 6}, "range": [100, 40000], "elevation": [-60, 75]},
      "bodies": [{"name": "part", "role": "part", "mesh": "block.obj"},
                 {"name": "part 2", "role": "part", "mesh": "./block.obj",
                  "pose": {"translate": [0, 50, 0]}}],
      "full_targets": [{"name": "ball", "diameter": 38, "acceptance": 30, "aperture": 42}],
      "features": [{"name": "top", "type": "point", "at": [2, 4, 7], "normal": [0, 0, 1]}],
      "stations": {"fixed": [{"name": "here", "at": [1500, 0, 400]}]}})");
  }

  void pack(const std::string& scene, const std::string& zip) const {
    const Outcome packed = run({"pack", path(scene), "-o", path(zip)});
    ASSERT_EQ(packed.exit, Exit::done) << packed.err;
  }
};

TEST_F(PackRun, APackedSceneGivesTheSamePlanToTheByte) {
  pack("job.json", "out/job.zip");
  const Outcome plain = run({"plan", path("job.json"), "-o", path("a"), "--quiet"});
  const Outcome packed = run({"plan", path("out/job.zip"), "-o", path("b"), "--quiet"});
  EXPECT_EQ(packed.exit, plain.exit) << packed.err;
  for (const char* file : {"plan.json", "stations.csv", "touches.csv", "page.html"}) {
    EXPECT_FALSE(got(fs::path("a") / file).empty()) << file;
    EXPECT_EQ(got(fs::path("b") / file), got(fs::path("a") / file)) << file;
  }
}

TEST_F(PackRun, EveryFileIsThereOnceUnderANameOfItsOwn) {
  pack("job.json", "job.zip");
  const auto unpacked = unpack_scene(folder_ / "job.zip");
  ASSERT_TRUE(unpacked);
  std::set<std::string> names;
  for (const auto& entry : fs::recursive_directory_iterator(unpacked->folder()))
    names.insert(entry.path().filename().string());
  EXPECT_EQ(names, (std::set<std::string>{"scene.json", "hall.json", "block.obj", "block-2.obj",
                                          "block.stl"}));
  const Json scene = Json::parse(std::ifstream(unpacked->scene()));
  EXPECT_EQ(scene["name"], "job") << "what it goes by beside its file";
  EXPECT_FALSE(scene.contains("$schema"));
  EXPECT_EQ(scene["bodies"][0]["mesh"], scene["bodies"][1]["mesh"]);
  EXPECT_EQ(scene["include"], Json({"hall.json"}));
  const Json hall = Json::parse(std::ifstream(unpacked->folder() / "hall.json"));
  EXPECT_NE(hall["bodies"][1]["mesh"], scene["bodies"][0]["mesh"]);
  EXPECT_FALSE(hall.contains("name"));
}

TEST_F(PackRun, TheSameSceneGivesTheSameBytes) {
  pack("job.json", "one.zip");
  fs::last_write_time(folder_ / "block.obj", fs::file_time_type::clock::now());
  pack("job.json", "two.zip");
  EXPECT_EQ(got("one.zip"), got("two.zip"));
  EXPECT_FALSE(got("one.zip").empty());
}

TEST_F(PackRun, APackedSceneCanBePackedAgain) {
  pack("job.json", "one.zip");
  pack("one.zip", "two.zip");
  EXPECT_EQ(got("two.zip"), got("one.zip"));
}

TEST_F(PackRun, OtherCommandsTakeAPackedScene) {
  pack("job.json", "job.zip");
  EXPECT_EQ(run({"check", path("job.zip")}).exit, Exit::done);
  const std::vector<std::string> where{"--at", "1500,0,400", "--json"};
  const Outcome plain = run({"sight", path("job.json"), where[0], where[1], where[2]});
  const Outcome packed = run({"sight", path("job.zip"), where[0], where[1], where[2]});
  EXPECT_EQ(packed.out, plain.out);
  EXPECT_EQ(run({"why", path("job.zip"), "--station", "here", "--feature", "top"}).err, "");
}

TEST_F(PackRun, JsonTellsWhatWasPacked) {
  const Outcome packed = run({"pack", path("job.json"), "-o", path("job.zip"), "--json"});
  const Json told = Json::parse(packed.out);
  EXPECT_EQ(told["format"], "standpoint-pack");
  EXPECT_EQ(told["bytes"], fs::file_size(folder_ / "job.zip"));
  ASSERT_EQ(told["files"].size(), 5u);
  EXPECT_EQ(told["files"][0]["name"], "block-2.obj");
}

TEST_F(PackRun, AWrongSceneIsNotPacked) {
  fs::remove(folder_ / "hall/block.obj");
  const Outcome packed = run({"pack", path("job.json"), "-o", path("job.zip")});
  EXPECT_EQ(packed.exit, Exit::wrong_input);
  EXPECT_NE(packed.err.find("hall.json#/bodies/1/mesh"), std::string::npos) << packed.err;
  EXPECT_FALSE(fs::exists(folder_ / "job.zip"));
}

TEST_F(PackRun, AZipFileThatCannotBeWrittenLeavesNothing) {
  fs::create_directory(folder_ / "taken.zip");
  const Outcome packed = run({"pack", path("job.json"), "-o", path("taken.zip")});
  EXPECT_EQ(packed.exit, Exit::failed);
  EXPECT_NE(packed.err.find("nothing was written"), std::string::npos) << packed.err;
}

TEST_F(PackRun, TheFileIsAskedForAndItsEndingHeldTo) {
  EXPECT_EQ(run({"pack", path("job.json")}).exit, Exit::wrong_input);
  const Outcome packed = run({"pack", path("job.json"), "-o", path("job.tar")});
  EXPECT_EQ(packed.exit, Exit::wrong_input);
  EXPECT_NE(packed.err.find(".zip"), std::string::npos) << packed.err;
}

TEST_F(PackRun, BuffersOfAGltfMeshGoWithIt) {
  fs::create_directories(folder_ / "data");
  put("data/block.bin", gltf_buffer());
  put("block.gltf", block_as_gltf("data/block.bin"));
  Json scene = Json::parse(got("job.json"));
  scene["bodies"] = {{{"name", "part"}, {"role", "part"}, {"mesh", "block.gltf"}}};
  put("job.json", scene.dump());
  pack("job.json", "job.zip");
  const Outcome checked = run({"check", path("job.zip")});
  EXPECT_EQ(checked.exit, Exit::done) << checked.err;
  put("block.gltf", block_as_gltf("../block.bin"));
  fs::rename(folder_ / "data/block.bin", folder_.parent_path() / "block.bin");
  const Outcome refused = run({"pack", path("job.json"), "-o", path("two.zip")});
  fs::remove(folder_.parent_path() / "block.bin");
  EXPECT_EQ(refused.exit, Exit::wrong_input) << refused.out;
}

TEST_F(PackRun, AnObjMeshWhoseMaterialsStandElsewhereIsNotPacked) {
  put("block.obj", "mtllib ../colours.mtl\n" + block_as_obj());
  const Outcome refused = run({"pack", path("job.json"), "-o", path("job.zip")});
  EXPECT_EQ(refused.exit, Exit::wrong_input) << refused.out;
  EXPECT_NE(refused.err.find("block.obj: got \"../colours.mtl\", expected"), std::string::npos)
      << refused.err;
  put("block.obj", "mtllib colours.mtl\n" + block_as_obj());
  pack("job.json", "job.zip");
  EXPECT_EQ(run({"check", path("job.zip")}).exit, Exit::done) << "nothing but colours is missing";
}

}  // namespace
}  // namespace standpoint
