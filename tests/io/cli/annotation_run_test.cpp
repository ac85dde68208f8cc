// `features` on a part with tolerances in its file: from the file's records to what a user reads.

#include <map>
#include <regex>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "tests/io/cli/whole_program.h"
#include "tests/io/read/cad_files.h"

namespace standpoint {
namespace {

using nlohmann::json;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

/// The number of the entity that the pattern's group stands for; the file must have it.
std::string entity(const std::string& text, const std::string& pattern) {
  std::smatch match;
  EXPECT_TRUE(std::regex_search(text, match, std::regex(pattern))) << pattern;
  return match.empty() ? "#0" : "#" + match[1].str();
}

/// A box of 100 x 80 x 50 with a bore of diameter 30 through it along z at (40, 30), and records
/// added at the end of its data: `more`, in which @BORE and @SIDE are the faces of the bore and of
/// a side, and @SHAPE is the part's shape.
class AnnotationRun : public WholeProgram {
 protected:
  void write_part(std::string more, const std::string& unit = "MM") {
    write_bored_box(folder_ / "plain.step", unit);
    std::string text = got("plain.step");
    const std::string bore = entity(text, R"(#(\d+) = CYLINDRICAL_SURFACE)");
    const std::string face = entity(text, R"(#(\d+) = ADVANCED_FACE\('',\([^)]*\),)" + bore + ",");
    const std::string side = entity(text, R"(#(\d+) = ADVANCED_FACE)");
    const std::string shape = entity(text, R"(#(\d+) = PRODUCT_DEFINITION_SHAPE)");
    for (const auto& [word, id] :
         std::map<std::string, std::string>{{"@BORE", face}, {"@SIDE", side}, {"@SHAPE", shape}}) {
      more = std::regex_replace(more, std::regex(word), id);
    }
    const std::size_t end = text.rfind("ENDSEC;");
    text.insert(end, more);
    put("part.step", text);
  }
  [[nodiscard]] json found() const {
    const Outcome outcome = run({"features", path("part.step"), "--json"});
    EXPECT_EQ(outcome.exit, Exit::done) << outcome.err;
    return json::parse(outcome.out);
  }
};

constexpr const char* kRecords = R"(
#90001=(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.));
#90002=LENGTH_MEASURE_WITH_UNIT(LENGTH_MEASURE(0.4),#90001);
#90003=LENGTH_MEASURE_WITH_UNIT(LENGTH_MEASURE(0.05),#90001);
#90010=SHAPE_ASPECT('','',@SHAPE,.T.);
#90011=GEOMETRIC_ITEM_SPECIFIC_USAGE('','',#90010,$,@BORE);
#90012=SHAPE_ASPECT('','',@SHAPE,.T.);
#90013=GEOMETRIC_ITEM_SPECIFIC_USAGE('','',#90012,$,@SIDE);
#90014=DATUM_FEATURE('','',@SHAPE,.T.);
#90015=GEOMETRIC_ITEM_SPECIFIC_USAGE('','',#90014,$,@SIDE);
#90016=DATUM('','',@SHAPE,.F.,'A');
#90017=SHAPE_ASPECT_RELATIONSHIP('','',#90014,#90016);
#90018=DATUM_SYSTEM('','',@SHAPE,.F.,(#90019));
#90019=DATUM_REFERENCE_COMPARTMENT('','',@SHAPE,.F.,#90016,$);
#90020=(GEOMETRIC_TOLERANCE('the bore','',#90002,#90010)GEOMETRIC_TOLERANCE_WITH_DATUM_REFERENCE((#90018))POSITION_TOLERANCE());
#90021=FLATNESS_TOLERANCE('','',#90003,#90012);
#90022=CYLINDRICITY_TOLERANCE('','',#90003,#90010);
)";

TEST_F(AnnotationRun, FeatureOfTheFaceHasTheTolerance) {
  write_part(kRecords);
  const json read = found();
  EXPECT_EQ(read["annotation"]["read"], 3);
  EXPECT_THAT(read["annotation"]["not_read"], IsEmpty());
  int bores = 0, datums = 0;
  for (const json& feature : read["features"]) {
    if (feature["type"] == "hole") {
      ++bores;
      EXPECT_EQ(feature["tolerance"], 0.4);
      EXPECT_EQ(feature["tolerance_from"], "position 0.4 | A (#90020)");
      EXPECT_FALSE(feature.contains("datum"));
    } else if (feature.contains("datum")) {
      ++datums;
      EXPECT_EQ(feature["type"], "plane");
      EXPECT_EQ(feature["tolerance"], 0.05);
      EXPECT_EQ(feature["tolerance_from"], "flatness 0.05 (#90021)");
    } else {
      EXPECT_FALSE(feature.contains("tolerance")) << feature;
    }
  }
  EXPECT_EQ(bores, 1);
  EXPECT_EQ(datums, 1);
  ASSERT_EQ(read["tolerances"].size(), 3U);
  EXPECT_EQ(read["tolerances"][0]["kind"], "position");
  EXPECT_EQ(read["tolerances"][0]["name"], "the bore");
  EXPECT_EQ(read["datums"][0]["letter"], "A");
}

TEST_F(AnnotationRun, WidthsAreInMmWhateverTheUnitOfTheShape) {
  write_part(kRecords, "INCH");
  const json read = found();
  EXPECT_EQ(read["annotation"]["read"], 3);
  EXPECT_EQ(read["tolerances"][0]["width"], 0.4);
}

TEST_F(AnnotationRun, TableTellsHowManyAreReadAndWhichAreNot) {
  write_part(
      std::string(kRecords) +
      "#90030=FLATNESS_TOLERANCE('','',$,#90012);#90031=(GEOMETRIC_TOLERANCE('','',#90002,#90010)"
      "\x1b[31mX_TOLERANCE());\n#90032=STRAIGHTNESS_TOLERANCE('','',#90003,#90040);");
  const Outcome outcome = run({"features", path("part.step")});
  EXPECT_EQ(outcome.exit, Exit::done) << outcome.err;
  EXPECT_THAT(outcome.out, HasSubstr("4 of 6 geometric tolerances read"));
  EXPECT_THAT(outcome.out, HasSubstr("flatness (#90030): it gives no width"));
  EXPECT_THAT(outcome.out, HasSubstr("(#90031): its record is damaged"));
  EXPECT_THAT(outcome.out, HasSubstr("straightness 0.05 (#90032)"));
  EXPECT_THAT(outcome.out, Not(HasSubstr("\x1b")));
  const json read = found();
  EXPECT_EQ(read["annotation"]["read"], 4);
  ASSERT_EQ(read["annotation"]["not_read"].size(), 2U);
  EXPECT_EQ(read["annotation"]["not_read"][0]["id"], "#90030");
  EXPECT_EQ(read["annotation"]["not_read"][0]["kind"], "flatness");
}

TEST_F(AnnotationRun, PartWithoutAnySaysNothingButTheCount) {
  write_part("");
  EXPECT_EQ(found()["annotation"]["read"], 0);
  EXPECT_THAT(found()["tolerances"], IsEmpty());
  EXPECT_THAT(run({"features", path("part.step")}).out, Not(HasSubstr("olerance")));
  write_bored_box_as_iges(folder_ / "part.igs", "MM");
  const Outcome iges = run({"features", path("part.igs"), "--json"});
  EXPECT_EQ(json::parse(iges.out)["annotation"]["read"], 0);
}

TEST_F(AnnotationRun, ListOfFeaturesCarriesToleranceAndDatum) {
  write_part(kRecords);
  const Outcome outcome = run({"features", path("part.step"), "--csv"});
  EXPECT_THAT(outcome.out.substr(0, outcome.out.find('\n')), HasSubstr("tolerance [mm],datum"));
  EXPECT_THAT(outcome.out, HasSubstr(",0.4,"));
}

/// Adds a flatness of 0.05 (#90021) and one that cannot be read (#90022) on the first face of the
/// STEP file `text`, with a datum `letter` there.
std::string with_flatness(std::string text, const std::string& letter) {
  std::string more = R"(
#90001=(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.));
#90003=LENGTH_MEASURE_WITH_UNIT(LENGTH_MEASURE(0.05),#90001);
#90012=SHAPE_ASPECT('','',@SHAPE,.T.);
#90013=GEOMETRIC_ITEM_SPECIFIC_USAGE('','',#90012,$,@FACE);
#90014=DATUM_FEATURE('','',@SHAPE,.T.);
#90015=GEOMETRIC_ITEM_SPECIFIC_USAGE('','',#90014,$,@FACE);
#90016=DATUM('','',@SHAPE,.F.,'@LETTER');
#90017=SHAPE_ASPECT_RELATIONSHIP('','',#90014,#90016);
#90021=FLATNESS_TOLERANCE('','',#90003,#90012);
#90022=FLATNESS_TOLERANCE('','',$,#90012);
)";
  for (const auto& [word, id] : std::map<std::string, std::string>{
           {"@FACE", entity(text, R"(#(\d+) = ADVANCED_FACE)")},
           {"@SHAPE", entity(text, R"(#(\d+) = PRODUCT_DEFINITION_SHAPE)")},
           {"@LETTER", letter}}) {
    more = std::regex_replace(more, std::regex(word), id);
  }
  return text.insert(text.rfind("ENDSEC;"), more);
}

TEST_F(AnnotationRun, AnnotationInFilesThatAnAssemblyRefersToIsReadToo) {
  write_assembly_of_files(folder_ / "part.step");
  put("part-pin.stp", with_flatness(got("part-pin.stp"), "B"));
  put("part-plate.stp", with_flatness(got("part-plate.stp"), "A"));
  const json read = found();
  EXPECT_EQ(read["annotation"]["read"], 2);
  ASSERT_EQ(read["tolerances"].size(), 2U);
  EXPECT_EQ(read["tolerances"][0]["part_file"], "part-pin.stp");
  EXPECT_EQ(read["tolerances"][1]["part_file"], "part-plate.stp");
  ASSERT_EQ(read["annotation"]["not_read"].size(), 2U);
  EXPECT_EQ(read["annotation"]["not_read"][1]["part_file"], "part-plate.stp");
  ASSERT_EQ(read["datums"].size(), 2U);
  EXPECT_EQ(read["datums"][0]["letter"], "A");
  EXPECT_EQ(read["datums"][0]["part_file"], "part-plate.stp");
  // One face of the plate, and one of the pin at each of its two places.
  std::map<std::string, int> with;
  for (const json& feature : read["features"]) {
    if (!feature.contains("tolerance_from")) continue;
    EXPECT_TRUE(feature.contains("datum"));
    ++with[feature["tolerance_from"].get<std::string>()];
  }
  EXPECT_THAT(with, ElementsAre(testing::Pair("flatness 0.05 (#90021 of part-pin.stp)", 2),
                                testing::Pair("flatness 0.05 (#90021 of part-plate.stp)", 1)));
  EXPECT_THAT(run({"features", path("part.step")}).out,
              HasSubstr("Tolerance not read: flatness (#90022 of part-pin.stp)"));
}

/// Records cut off or changed anywhere: the features are found all the same, or the file is told to
/// be unreadable; nothing else happens.
TEST_F(AnnotationRun, BrokenRecordsNeverEndTheProgram) {
  const std::string whole = kRecords;
  for (const std::size_t cut :
       {std::size_t{1}, std::size_t{40}, whole.size() / 3, whole.size() / 2, whole.size() - 20}) {
    write_part(whole.substr(0, cut));
    const Outcome outcome = run({"features", path("part.step"), "--json"});
    EXPECT_TRUE(outcome.exit == Exit::done || outcome.exit == Exit::wrong_input) << cut;
  }
}

}  // namespace
}  // namespace standpoint
