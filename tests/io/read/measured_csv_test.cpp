#include "io/read/measured/measured_csv.h"

#include <fstream>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "io/read/text/csv_reader.h"
#include "io/write/csv/csv.h"

namespace standpoint {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

// RFC 4180, section 2, rule by rule.
TEST(CsvReader, ReadsRecordsAsTheRfcHasThem) {
  const auto records = csv_records(
      "\xEF\xBB\xBF"
      "a,b\r\n\"x,1\",\"say \"\"so\"\"\"\r\n\r\n\"two\r\nlines\",\nlast,");
  ASSERT_EQ(records.size(), 4u);
  EXPECT_THAT(records[0].fields, ElementsAre("a", "b"));
  EXPECT_THAT(records[1].fields, ElementsAre("x,1", "say \"so\""));
  EXPECT_THAT(records[2].fields, ElementsAre("two\r\nlines", ""));
  EXPECT_THAT(records[3].fields, ElementsAre("last", ""));
  const std::vector<std::size_t> lines = {records[0].line, records[1].line, records[2].line,
                                          records[3].line};
  EXPECT_THAT(lines, ElementsAre(1, 2, 4, 6));
  for (const CsvRecord& record : records) EXPECT_EQ(record.defect, "");
}

TEST(CsvReader, TellsBrokenQuoting) {
  EXPECT_THAT(csv_records("a\"b,c")[0].defect, HasSubstr("inside"));
  EXPECT_THAT(csv_records("\"a\"b,c")[0].defect, HasSubstr("after"));
  EXPECT_THAT(csv_records("\"a,b\n")[0].defect, HasSubstr("never closed"));
  EXPECT_TRUE(csv_records("").empty());
  EXPECT_TRUE(csv_records("\r\n\n\r").empty());
}

TEST(CsvReader, ReadsBackWhatIsWritten) {
  const std::vector<std::string> fields = {"plain", "a,b", "\"", "two\r\nlines", " edge ", ""};
  const auto records = csv_records(csv_record(fields) + csv_record({"x"}));
  ASSERT_EQ(records.size(), 2u);
  EXPECT_EQ(records[0].fields, fields);
}

Scene scene() {
  Scene scene;
  scene.units = "m";
  scene.mm_per_unit = 1000;
  for (const char* name : {"N1", "north, low", "N3"})
    scene.nests.push_back({name, Vec3::Zero(), Vec3::UnitZ(), 0.5});
  return scene;
}

Faults faults(std::string_view text) {
  const auto read = parse_measured(text, "nests.csv", scene());
  EXPECT_FALSE(read);
  return read ? Faults{} : read.error();
}

TEST(MeasuredCsv, ReadsNestsInSceneUnits) {
  const auto read = parse_measured("name,x,y,z\r\nN3,1.5,-2,+0.25\r\n\"north, low\", 1e-3 ,0,4\r\n",
                                   "nests.csv", scene());
  ASSERT_TRUE(read);
  ASSERT_EQ(read->seen.size(), 2u);
  EXPECT_EQ(read->seen[0].nest, NestId(2));
  EXPECT_EQ(read->seen[0].at, Vec3(1500, -2000, 250));
  EXPECT_EQ(read->seen[1].nest, NestId(1));
  EXPECT_EQ(read->seen[1].at, Vec3(1, 0, 4000));
  EXPECT_THAT(read->lines, ElementsAre(2, 3));
}

TEST(MeasuredCsv, TellsEveryFaultAtOnceWithItsLine) {
  const Faults found = faults(
      "name;x;y;z\n"       // 1: semicolons
      "N1,1,2,3\n"         // 2
      "n3,1,2,3\n"         // 3: N3 meant
      "N1,4,5,6\n"         // 4: twice
      "N3,1,5,2,3,7\n"     // 5: decimal commas
      "N3,1,nan,1e10\n"    // 6: two numbers
      "N9,x,2,3\n"         // 7: name and number
      "\"N3\"x,1,2,3\n");  // 8: quoting
  std::vector<std::string> where, values;
  for (const Fault& fault : found) {
    where.push_back(fault.where);
    values.push_back(fault.value);
    EXPECT_NE(fault.allowed, "");
  }
  EXPECT_THAT(where,
              ElementsAre("nests.csv:1", "nests.csv:3", "nests.csv:4", "nests.csv:5", "nests.csv:6",
                          "nests.csv:6", "nests.csv:7", "nests.csv:7", "nests.csv:8"));
  EXPECT_THAT(values, ElementsAre("\"name;x;y;z\"", "\"n3\"", "\"N1\"", "\"N3,1,5,2,3,7\"",
                                  "\"nan\"", "\"1e10\"", "\"N9\"", "\"x\"", "\"N3x,1,2,3\""));
  EXPECT_THAT(found[0].allowed, HasSubstr("commas"));
  EXPECT_EQ(found[1].nearest, "N3");
  EXPECT_THAT(found[2].allowed, HasSubstr("line 2"));
  EXPECT_THAT(found[3].allowed, HasSubstr("decimal point"));
  EXPECT_EQ(found[1].kind, FaultKind::unknown_name);
  EXPECT_EQ(found[2].kind, FaultKind::duplicate_name);
}

TEST(MeasuredCsv, TellsAnEmptyOrMissingFile) {
  EXPECT_THAT(faults("")[0].allowed, HasSubstr("name,x,y,z"));
  const auto missing = read_measured("no-such-folder/nests.csv", scene());
  ASSERT_FALSE(missing);
  EXPECT_EQ(missing.error()[0].where, "no-such-folder/nests.csv");
  EXPECT_THAT(missing.error()[0].allowed, testing::StartsWith("a CSV file that can be read"));
}

}  // namespace
}  // namespace standpoint
