// Records of a STEP file's text, each case written by hand.

#include "io/read/cad/part21_text.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/draw.h"

namespace standpoint {
namespace {

using Kind = Part21Value::Kind;
using testing::ElementsAre;

std::vector<Part21Record> all_records(std::string_view text) {
  return part21_records(text, [](std::string_view) { return true; });
}

std::vector<std::uint64_t> ids_of(const std::vector<Part21Record>& records) {
  std::vector<std::uint64_t> ids;
  for (const Part21Record& record : records) ids.push_back(record.id);
  return ids;
}

TEST(Part21Text, ValuesOfEveryKind) {
  const auto records = all_records(
      "#7=SOME_THING($,*,#12,-1.5E-3,2,+3.,.T.,'a',(1.,(#4)),LENGTH_MEASURE(0.4),\"0F\");");
  ASSERT_EQ(records.size(), 1U);
  EXPECT_EQ(records[0].id, 7U);
  EXPECT_FALSE(records[0].is_complex);
  EXPECT_FALSE(records[0].is_damaged);
  ASSERT_EQ(records[0].entities.size(), 1U);
  EXPECT_EQ(records[0].entities[0].type, "SOME_THING");
  const auto& values = records[0].entities[0].values;
  ASSERT_EQ(values.size(), 11U);
  EXPECT_EQ(values[0].kind, Kind::nothing);
  EXPECT_EQ(values[1].kind, Kind::nothing);
  EXPECT_EQ(values[2].reference, 12U);
  EXPECT_EQ(values[3].number, -1.5e-3);
  EXPECT_EQ(values[4].number, 2);
  EXPECT_EQ(values[5].number, 3);
  EXPECT_EQ(values[6].kind, Kind::word);
  EXPECT_EQ(values[6].text, "T");
  EXPECT_EQ(values[7].kind, Kind::text);
  ASSERT_EQ(values[8].items.size(), 2U);
  ASSERT_EQ(values[8].items[1].items.size(), 1U);
  EXPECT_EQ(values[8].items[1].items[0].reference, 4U);
  EXPECT_EQ(values[9].kind, Kind::typed);
  EXPECT_EQ(values[9].text, "LENGTH_MEASURE");
  ASSERT_EQ(values[9].items.size(), 1U);
  EXPECT_EQ(values[9].items[0].number, 0.4);
  EXPECT_EQ(values[10].kind, Kind::nothing);
}

TEST(Part21Text, TextInQuotesMayHoldWhatElseEndsARecord) {
  const auto records = all_records("#1=A('x;y','it''s /* no comment','#9=B();');#2=C();");
  EXPECT_THAT(ids_of(records), ElementsAre(1, 2));
  const auto& values = records[0].entities[0].values;
  ASSERT_EQ(values.size(), 3U);
  EXPECT_EQ(values[0].text, "x;y");
  EXPECT_EQ(values[1].text, "it's /* no comment");
  EXPECT_EQ(values[2].text, "#9=B();");
}

TEST(Part21Text, CommentsAreNoRecordsAndMayStandAnywhere) {
  const auto records = all_records(
      "/* #5=A(); it's */ #1 /*;*/ = /**/ B /* ' */ ( 1. /*,2.*/ , /* x */ #3 ) /*;*/ ; /* "
      "#6=C();");
  ASSERT_THAT(ids_of(records), ElementsAre(1));
  EXPECT_FALSE(records[0].is_damaged);
  ASSERT_EQ(records[0].entities[0].values.size(), 2U);
  EXPECT_EQ(records[0].entities[0].values[1].reference, 3U);
}

TEST(Part21Text, LinesBreakAnywhereBetweenAndWithinValues) {
  const auto records =
      all_records("#1\r\n=\r\nA(\r\n'split\r\nname',\r\n#\r\n2);\n#3=B(\n1.\n,\n$)\n;");
  ASSERT_THAT(ids_of(records), ElementsAre(1, 3));
  EXPECT_TRUE(records[0].is_damaged);  // a number of an entity is one word
  EXPECT_FALSE(records[1].is_damaged);
  const auto whole = all_records("#1=A('split\r\nname');");
  EXPECT_EQ(whole[0].entities[0].values[0].text, "splitname");
}

TEST(Part21Text, ComplexInstanceIsOneRecordOfSeveralEntities) {
  const auto records = all_records(
      "#21=(GEOMETRIC_TOLERANCE('P(1)','',#95,#235)\n "
      "GEOMETRIC_TOLERANCE_WITH_DATUM_REFERENCE((#52))"
      "POSITION_TOLERANCE());");
  ASSERT_EQ(records.size(), 1U);
  EXPECT_TRUE(records[0].is_complex);
  ASSERT_EQ(records[0].entities.size(), 3U);
  EXPECT_EQ(records[0].entities[0].values[0].text, "P(1)");
  EXPECT_EQ(records[0].entities[1].type, "GEOMETRIC_TOLERANCE_WITH_DATUM_REFERENCE");
  EXPECT_EQ(records[0].entities[2].type, "POSITION_TOLERANCE");
  EXPECT_TRUE(records[0].entities[2].values.empty());
}

TEST(Part21Text, WantedByAnyTypeOfAComplexInstanceButNotByItsValues) {
  const auto wanted = [](std::string_view type) { return type == "B"; };
  const auto records = part21_records(
      "#1=A(B(1.));#2=(A('B(')B());#3=(A(B(1.)));#4=B();#5=(A()C());#6=C('#7=B();');", wanted);
  EXPECT_THAT(ids_of(records), ElementsAre(2, 4));
}

TEST(Part21Text, HeaderAndOtherSectionsHoldNoRecords) {
  const auto records = all_records(
      "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION(('#1=A();'),'2;1');\nFILE_NAME('a;b','',(''),(''),'"
      "',"
      "'','');\nFILE_SCHEMA(('AP242'));\nENDSEC;\nANCHOR;<top>=#2;ENDSEC;\nREFERENCE;#8=<a.stp#x>;"
      "ENDSEC;"
      "\nDATA;\n#2=A();\nENDSEC;\nDATA;#3=B();ENDSEC;\nEND-ISO-10303-21;\n");
  EXPECT_THAT(ids_of(records), ElementsAre(2, 3));
}

TEST(Part21Text, DamagedRecordKeepsItsTypesAndItsNeighbours) {
  for (const char* const body :
       {"A(1.,", "A(1.))", "A", "A(#)", "A(#x)", "A(.T)", "A(..)", "A('x' 'y')", "A(1e)", "A(,)",
        "A(1.E999)", "A(#99999999999999999999)", "A(B)", "A() A()"}) {
    const auto records = all_records("#1=C();#2=" + std::string(body) + ";#3=D();");
    ASSERT_THAT(ids_of(records), ElementsAre(1, 2, 3)) << body;
    EXPECT_TRUE(records[1].is_damaged) << body;
    ASSERT_EQ(records[1].entities.size(), 1U) << body;
    EXPECT_EQ(records[1].entities[0].type, "A") << body;
    EXPECT_TRUE(records[1].entities[0].values.empty()) << body;
    EXPECT_FALSE(records[2].is_damaged) << body;
  }
}

TEST(Part21Text, TextWithoutItsEndTakesTheRestAndNoMore) {
  EXPECT_THAT(ids_of(all_records("#1=A();#2=B('open);#3=C();")), ElementsAre(1, 2));
  EXPECT_TRUE(all_records("#1=A();#2=B('open);#3=C();")[1].is_damaged);
  EXPECT_THAT(ids_of(all_records("#1=A();/* open #2=B();")), ElementsAre(1));
  EXPECT_TRUE(all_records("").empty());
  EXPECT_TRUE(all_records("#").empty());
  EXPECT_TRUE(all_records("#1=").empty());
  EXPECT_TRUE(all_records("#1='x';").empty());
}

TEST(Part21Text, ListsWithoutEndDoNotExhaustTheStack) {
  const std::string deep(1000000, '(');
  const auto records = all_records("#1=A" + deep + ";#2=B();");
  ASSERT_THAT(ids_of(records), ElementsAre(1, 2));
  EXPECT_TRUE(records[0].is_damaged);
}

/// Any text whatever is taken: pieces of records in a random order, and with bytes changed.
TEST(Part21Text, AnyTextIsTaken) {
  const std::vector<std::string> pieces = {
      "#12", "=",    "A(",  "(", ")", "'", "''", "\"", ",",  ";",   "/*", "*/",     "$",
      "*",   "1.E3", ".T.", ".", "#", " ", "\n", "-",  "!X", "<a>", "@1", "\\X2\\", "\xff"};
  for (std::uint32_t seed = 1; seed <= 3000; ++seed) {
    test::Draw draw(seed);
    std::string text = "#1=A();";
    for (std::size_t left = 1 + draw.below(40); left > 0; --left) {
      text += pieces[draw.below(pieces.size())];
    }
    SCOPED_TRACE("seed " + std::to_string(seed) + ": " + text);
    const auto records = all_records(text);
    ASSERT_FALSE(records.empty());
    EXPECT_EQ(records[0].id, 1U);
    for (const Part21Record& record : records) ASSERT_FALSE(record.entities.empty());
  }
}

}  // namespace
}  // namespace standpoint
