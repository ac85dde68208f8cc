// Scenes in one zip file: what is refused, and that nothing of it is written then.

#include "io/read/files/unpacked_scene.h"

#include <gtest/gtest.h>

#include <fstream>
#include <functional>

#include "io/read/files/read_scene_file.h"
#include "io/write/files/zip_bytes.h"
#include "tests/io/read/body_files.h"
#include "tests/io/read/scene_samples.h"

namespace standpoint {
namespace {

namespace fs = std::filesystem;

using Files = std::vector<OutFile>;

constexpr const char* kScene = R"({"format": "standpoint-scene", "version": 1, "units": "mm",
  "instrument": {"beam": {"diameter": 6}, "range": [400, 40000], "elevation": [-60, 75]}})";

/// Changes bytes of the table's entry number `index`, `offset` from its begin (APPNOTE.TXT 6.3.9,
/// section 4.3.12).
std::string patched(std::string zip, std::size_t index, std::size_t offset, std::string bytes) {
  std::size_t at = zip.find("PK\x01\x02");
  for (std::size_t i = 0; i < index && at != std::string::npos; ++i)
    at = zip.find("PK\x01\x02", at + 4);
  EXPECT_NE(at, std::string::npos);
  return zip.replace(at + offset, bytes.size(), bytes);
}

struct BadZip {
  std::string name;
  std::function<std::string()> bytes;
  std::string where;  ///< after "job.zip"
  std::string value;
  std::string allowed;  ///< a part of it
};

std::string with_entry(const std::string& name) {
  return zip_bytes({{"scene.json", kScene}, {name, "x"}});
}

const std::vector<BadZip>& bad_zips() {
  static const std::string kWay = "a path inside the zip file";
  static const std::vector<BadZip> all{
      {"NoZip", [] { return std::string("{}"); }, "",
       "a file that is no zip file, or a damaged one", "can be read"},
      {"Empty", [] { return std::string(); }, "", "a file that is no zip file, or a damaged one",
       "can be read"},
      {"CutShort",
       [] {
         const std::string zip = zip_bytes({{"scene.json", kScene}});
         return zip.substr(0, zip.size() / 2);
       },
       "", "a file that is no zip file, or a damaged one", "can be read"},
      {"NoScene",
       [] {
         return zip_bytes({{"hall.json", kScene}});
       },
       "/scene.json", "", "at the root"},
      {"UpwardPath", [] { return with_entry("../evil.txt"); }, "/../evil.txt",
       "a path that leads out of it", kWay},
      {"UpwardPathWithin", [] { return with_entry("a/../../evil.txt"); }, "/a/../../evil.txt",
       "a path that leads out of it", kWay},
      {"AbsolutePath", [] { return with_entry("/etc/evil"); }, "//etc/evil",
       "a path that does not begin in the zip file", kWay},
      {"DrivePath", [] { return with_entry("C:evil"); }, "/C:evil",
       "a path that does not begin in the zip file", kWay},
      {"BackslashPath", [] { return with_entry("..\\evil"); }, "/..\\evil",
       "a path that does not begin in the zip file", kWay},
      {"DoubleSlash", [] { return with_entry("a//b"); }, "/a//b", "a path that leads out of it",
       kWay},
      {"ControlCharacter", [] { return with_entry("a\nb"); }, "/a\nb",
       "a name with control characters", kWay},
      {"NameNotUtf8", [] { return with_entry("a\xFF"); }, "/a\xEF\xBF\xBD",
       "a name that is not UTF-8", kWay},
      {"EntryTwice",
       [] {
         return zip_bytes({{"scene.json", kScene}, {"a.stl", "1"}, {"a.stl", "2"}});
       },
       "/a.stl", "an entry that is there twice", "each entry once"},
      {"FileAsFolder",
       [] {
         return zip_bytes({{"scene.json", kScene}, {"a", "1"}, {"a/b", "2"}});
       },
       "/a/b", "an entry inside of another file", kWay},
      {"Encrypted", [] { return patched(with_entry("a.stl"), 1, 8, std::string("\x01\x08", 2)); },
       "/a.stl", "an encrypted entry", "without a password"},
      {"UnknownMethod",
       [] { return patched(with_entry("a.stl"), 1, 10, std::string("\x0C\x00", 2)); }, "/a.stl",
       "compression method 12", "stored or deflated"},
      {"Link", [] { return patched(with_entry("a.stl"), 1, 40, std::string("\xFF\xA1", 2)); },
       "/a.stl", "a link", "a file"},
      {"Bomb",
       [] {
         return zip_bytes({{"scene.json", kScene}, {"zeros.stl", std::string(100U << 20U, '\0')}});
       },
       "", "100 MiB, unpacked", "at most "},
      {"DamagedEntry",
       [] {
         std::string zip = zip_bytes({{"scene.json", kScene}, {"a.stl", std::string(3000, 'q')}});
         // The first bytes of the second entry's deflated data, 30 + its name after its header.
         const std::size_t at = zip.find("a.stl") + 5;
         return zip.replace(at, 3, "\xFF\xFF\xFF");
       },
       "/a.stl", "a damaged entry", "can be read"},
      {"WrongCheckSum",
       [] {
         std::string zip = with_entry("a.stl");
         for (const char* header : {"PK\x03\x04", "PK\x01\x02"}) {
           const std::size_t at = zip.rfind(header);
           zip[at + (header[2] == 3 ? 14 : 16)] ^= 1;
         }
         return zip;
       },
       "/a.stl", "a damaged entry", "can be read"},
  };
  return all;
}

class BadZipTest : public testing::TestWithParam<std::size_t> {};

TEST_P(BadZipTest, TellsThisFaultAndLeavesNothing) {
  const BadZip& bad = bad_zips()[GetParam()];
  const TestFolder folder;
  const fs::path zip = folder.write("job.zip", bad.bytes());
  fs::create_directory(folder / "tmp");
  ::setenv("TMPDIR", (folder / "tmp").c_str(), 1);
  const auto unpacked = unpack_scene(zip);
  ::unsetenv("TMPDIR");
  ASSERT_FALSE(unpacked);
  ASSERT_EQ(unpacked.error().size(), 1u) << scene_samples::listed(unpacked.error());
  const Fault& fault = unpacked.error()[0];
  EXPECT_EQ(fault.where, zip.string() + bad.where);
  EXPECT_EQ(fault.value, bad.value);
  EXPECT_NE(fault.allowed.find(bad.allowed), std::string::npos) << fault.allowed;
  EXPECT_TRUE(fs::is_empty(folder / "tmp")) << "what was unpacked is gone";
}

INSTANTIATE_TEST_SUITE_P(Every, BadZipTest, testing::Range<std::size_t>(0, bad_zips().size()),
                         [](const auto& case_info) { return bad_zips()[case_info.param].name; });

TEST(UnpackedScene, FaultsAreToldAtOnce) {
  const TestFolder folder;
  const fs::path zip =
      folder.write("job.zip", zip_bytes({{"hall/scene.json", kScene}, {"../a", "x"}, {"/b", "x"}}));
  const auto unpacked = unpack_scene(zip);
  ASSERT_FALSE(unpacked);
  EXPECT_EQ(unpacked.error().size(), 3u) << scene_samples::listed(unpacked.error());
  EXPECT_EQ(unpacked.error().back().nearest, "hall/scene.json");
}

TEST(UnpackedScene, EntriesAreBounded) {
  const TestFolder folder;
  const fs::path zip =
      folder.write("job.zip", zip_bytes({{"scene.json", kScene}, {"a", ""}, {"b", ""}}));
  UnpackLimits limits;
  limits.entries = 3;
  EXPECT_TRUE(unpack_scene(zip, limits));
  limits.entries = 2;
  EXPECT_FALSE(unpack_scene(zip, limits));
}

TEST(UnpackedScene, BytesAreBounded) {
  const TestFolder folder;
  const std::string scene = kScene;
  const fs::path zip = folder.write("job.zip", zip_bytes({{"scene.json", scene}}));
  UnpackLimits limits;
  limits.bytes = scene.size();
  EXPECT_TRUE(unpack_scene(zip, limits));
  limits.bytes = scene.size() - 1;
  EXPECT_FALSE(unpack_scene(zip, limits));
}

TEST(UnpackedScene, ItsFolderGoesWithIt) {
  const TestFolder folder;
  const fs::path zip =
      folder.write("job.zip", zip_bytes({{"scene.json", kScene}, {"deep/down/a.txt", "text"}}));
  fs::path where;
  {
    const auto unpacked = unpack_scene(zip);
    ASSERT_TRUE(unpacked);
    where = unpacked->folder();
    EXPECT_TRUE(fs::exists(where / "deep/down/a.txt"));
  }
  EXPECT_FALSE(fs::exists(where));
}

TEST(UnpackedScene, IsKnownByItsNameOrByItsContent) {
  const TestFolder folder;
  EXPECT_TRUE(is_packed_scene(folder.write("a.ZIP", "{}")));
  EXPECT_TRUE(is_packed_scene(folder.write("b.data", zip_bytes({{"scene.json", kScene}}))));
  EXPECT_FALSE(is_packed_scene(folder.write("c.json", kScene)));
  EXPECT_FALSE(is_packed_scene(folder / "none.zip")) << "told as any scene that is missing";
}

TEST(UnpackedScene, FaultsOfTheSceneNameTheZipFile) {
  const TestFolder folder;
  auto scene = scene_samples::Json::parse(kScene);
  scene["include"] = {"hall.json"};
  scene["bodies"] = {{{"name", "a"}, {"role", "part"}, {"mesh", "../job.zip"}}};
  auto hall = scene_samples::Json::parse(kScene);
  hall["units"] = "furlong";
  const fs::path zip = folder.write(
      "job.zip", zip_bytes({{"scene.json", scene.dump()}, {"hall.json", hall.dump()}}));
  const auto read = read_scene_file(zip);
  ASSERT_FALSE(read);
  ASSERT_EQ(read.error().size(), 2u) << scene_samples::listed(read);
  EXPECT_EQ(read.error()[0].where, "/bodies/0/mesh");
  EXPECT_NE(read.error()[0].allowed.find("inside " + zip.string()), std::string::npos);
  EXPECT_EQ(read.error()[1].where, zip.string() + "/hall.json#/units");
}

TEST(UnpackedScene, AMeshThatNamesAFileOutsideOfTheZipFileIsRefused) {
  const TestFolder folder;
  fs::create_directory(folder / "tmp");
  ::setenv("TMPDIR", (folder / "tmp").c_str(), 1);
  // Beside the folder that the scene is unpacked into: there all the same, and sound.
  (void)folder.write("tmp/outside.bin", gltf_buffer());
  (void)folder.write("tmp/outside.mtl", "newmtl grey\n");
  struct Case {
    std::string name, inside, outside;
  };
  const std::vector<Case> cases{
      {"block.gltf", block_as_gltf("data/inside.bin"), block_as_gltf("../outside.bin")},
      {"block.obj", "mtllib data/inside.mtl\n" + block_as_obj(),
       "mtllib ../outside.mtl\n" + block_as_obj()}};
  for (const Case& one : cases) {
    SCOPED_TRACE(one.name);
    auto scene = scene_samples::Json::parse(kScene);
    scene["bodies"] = {{{"name", "a"}, {"role", "part"}, {"mesh", one.name}}};
    const auto read = [&](const std::string& mesh) {
      return read_scene_file(
          folder.write("job.zip", zip_bytes({{"scene.json", scene.dump()},
                                             {one.name, mesh},
                                             {"data/inside.bin", gltf_buffer()},
                                             {"data/inside.mtl", "newmtl grey\n"}})));
    };
    const auto sound = read(one.inside);
    EXPECT_TRUE(sound) << scene_samples::listed(sound);
    const auto refused = read(one.outside);
    if (refused) {
      ADD_FAILURE() << "it was read";
      continue;
    }
    ASSERT_EQ(refused.error().size(), 1u) << scene_samples::listed(refused);
    EXPECT_EQ(refused.error()[0].where, "/bodies/0/mesh");
    EXPECT_NE(refused.error()[0].allowed.find("outside of the packed scene: \"outside."),
              std::string::npos)
        << refused.error()[0].allowed;
  }
  ::unsetenv("TMPDIR");
}

}  // namespace
}  // namespace standpoint
