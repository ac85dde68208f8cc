// The committed files are what the generator makes today.

#include <cstdlib>
#include <cstring>
#include <regex>

#include <gtest/gtest.h>

#include "bay.h"
#include "scene_shapes.h"
#include "small_scenes.h"

namespace standpoint::scenes {
namespace {

using std::filesystem::path;

/// Files may differ in the last digits between machines whose sines do, by no more than this.
constexpr double kSame = 1e-5;

std::string content(const path& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

/// Numbers apart, and the text between them; the header of a STEP file left out.
struct Split {
  std::vector<double> numbers;
  std::string text;
};
Split split(const std::string& all) {
  const std::size_t data = all.find("DATA;");
  const char* at = all.c_str() + (data == std::string::npos ? 0 : data);
  Split result;
  while (*at != '\0') {
    char* end = nullptr;
    const bool may_start = (*at >= '0' && *at <= '9') || *at == '-' || *at == '+' || *at == '.';
    const double number = may_start ? std::strtod(at, &end) : 0;
    if (may_start && end != at) {
      result.numbers.push_back(number);
      result.text += '0';
      at = end;
    } else {
      // STEP breaks its lines by length.
      if (*at != '\n' && *at != '\r' && *at != ' ') result.text += *at;
      ++at;
    }
  }
  return result;
}

/// Normals and corners of a binary STL (its format: 80 bytes, a count, 50 bytes a facet).
std::vector<float> stl_numbers(const std::string& bytes) {
  std::vector<float> numbers;
  for (std::size_t facet = 84; facet + 50 <= bytes.size(); facet += 50) {
    float values[12];
    std::memcpy(values, bytes.data() + facet, sizeof values);
    numbers.insert(numbers.end(), std::begin(values), std::end(values));
  }
  return numbers;
}

template <class Number>
void expect_same(const std::vector<Number>& a, const std::vector<Number>& b, const path& file) {
  ASSERT_EQ(a.size(), b.size()) << file;
  for (std::size_t i = 0; i < a.size(); ++i)
    ASSERT_NEAR(a[i], b[i], kSame) << file << " number " << i;
}

using Maker = std::string (*)(const path&);

void expect_reproduced(const char* name, Maker make) {
  const path fresh = path(testing::TempDir()) / "standpoint-scenes" / name;
  std::filesystem::remove_all(fresh);
  std::filesystem::create_directories(fresh);
  ASSERT_EQ(make(fresh), "");
  const path committed = scenes_folder() / name;
  std::size_t files = 0;
  for (const auto& entry : std::filesystem::directory_iterator(committed)) {
    const path other = fresh / entry.path().filename();
    ASSERT_TRUE(std::filesystem::exists(other)) << other << " is no longer made";
    ++files;
    const std::string a = content(entry.path()), b = content(other);
    if (other.extension() == ".stl") {
      ASSERT_GT(stl_numbers(a).size(), 0u);
      expect_same(stl_numbers(a), stl_numbers(b), other);
    } else {
      const Split was = split(a), is = split(b);
      EXPECT_TRUE(was.text == is.text) << other;
      expect_same(was.numbers, is.numbers, other);
    }
  }
  const auto made = std::filesystem::directory_iterator(fresh);
  EXPECT_EQ(files, std::size_t(std::distance(begin(made), end(made))))
      << "a new file is not committed";
  std::filesystem::remove_all(fresh);
}

TEST(Generator, MakesTheCommittedDemo) {
  expect_reproduced("demo", make_demo);
}
TEST(Generator, MakesTheCommittedWireScene) {
  expect_reproduced("wire", make_wire_scene);
}
TEST(Generator, MakesTheCommittedDowelScene) {
  expect_reproduced("dowel", make_dowel_scene);
}

}  // namespace
}  // namespace standpoint::scenes
