// The test parts CTC 01, 03 and 05 as QIF documents: of the QIF community's samples (commit
// 360b05e, Boost licence; headers shortened), from NIST's test cases for product definition (public
// domain). What must come out is counted in the text itself.
#include <fstream>
#include <iterator>
#include <map>
#include <regex>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "io/read/lists/feature_list.h"
#include "tests/io/read/body_files.h"
#include "tests/io/read/broken_list.h"

namespace standpoint {
namespace {

struct Sample {
  const char* part;
  std::size_t zones;   ///< geometric tolerances in the part's STEP file
  std::size_t listed;  ///< of them on features that can be listed
  std::map<FoundKind, std::size_t> kinds;
};

void PrintTo(const Sample& sample, std::ostream* out) {
  *out << "part " << sample.part;
}

std::size_t count(const std::string& text, const std::string& pattern) {
  const std::regex regex(pattern);
  return static_cast<std::size_t>(
      std::distance(std::sregex_iterator(text.begin(), text.end(), regex), std::sregex_iterator()));
}

class QifSamples : public testing::TestWithParam<Sample> {};

TEST_P(QifSamples, AreReadWhole) {
  const std::string name =
      std::string("qif/samples/nist_ctc_") + GetParam().part + "_asme1_ap242.qif";
  const auto file = shared_data(name);
  if (!file) GTEST_SKIP() << name << " is not there";
  std::ifstream in(*file, std::ios::binary);
  const std::string text((std::istreambuf_iterator<char>(in)), {});
  ListOptions options;
  options.file = "part.qif";
  const auto list = parse_feature_list(text, options);
  ASSERT_TRUE(list) << testing::PrintToString(test::lines_of(list.error()));
  std::map<FoundKind, std::size_t> kinds;
  for (const ListedFeature& listed : list->features) ++kinds[listed.feature.kind];
  EXPECT_EQ(kinds, GetParam().kinds);
  // Nothing is lost: what is not listed is passed over by name.
  const std::size_t nominals = count(text, "<[A-Za-z]+FeatureNominal ");
  const std::size_t characteristics = count(text, "<[A-Za-z]+CharacteristicNominal ");
  EXPECT_EQ(list->features.size() + list->tolerances + list->passed_over.size(),
            nominals + characteristics);
  const std::size_t sizes =
      count(text, "<(Diameter|Length|Width|Angle|DistanceBetween)CharacteristicNominal ");
  EXPECT_EQ(characteristics - sizes, GetParam().zones);
  EXPECT_EQ(list->tolerances, GetParam().listed);
  for (const ListedFeature& listed : list->features) {
    const FoundFeature& feature = listed.feature;
    EXPECT_NEAR(feature.axis.norm(), 1, 1e-12);
    EXPECT_LE(feature.centre.norm(), 1000);  // parts of some hundred millimetres, also in inches
    EXPECT_EQ(feature.tolerance.has_value(), !feature.tolerance_from.empty());
    if (feature.kind != FoundKind::plane) EXPECT_GT(feature.diameter, 4);
    if (feature.kind == FoundKind::plane) EXPECT_GE(feature.points.size(), 4u);
  }
  if (std::string(GetParam().part) != "01") return;
  std::multimap<int, bool> holes;
  for (const ListedFeature& listed : list->features)
    if (listed.feature.kind == FoundKind::hole)
      holes.emplace(static_cast<int>(std::lround(listed.feature.diameter)), listed.feature.through);
  EXPECT_THAT(holes,
              testing::ElementsAre(std::pair(20, false), std::pair(20, false), std::pair(25, true),
                                   std::pair(35, true), std::pair(35, true), std::pair(35, true),
                                   std::pair(35, true)));
}

INSTANTIATE_TEST_SUITE_P(
    OpenFiles, QifSamples,
    testing::Values(Sample{"01", 6, 2, {{FoundKind::plane, 2}, {FoundKind::hole, 7}}},
                    Sample{"03", 13, 12, {{FoundKind::plane, 7}, {FoundKind::hole, 11}}},
                    Sample{"05", 10, 7, {{FoundKind::plane, 4}, {FoundKind::cylinder, 3}}}),
    [](const testing::TestParamInfo<Sample>& sample) { return std::string(sample.param.part); });

}  // namespace
}  // namespace standpoint
