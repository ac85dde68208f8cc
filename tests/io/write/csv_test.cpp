#include "io/write/csv/csv.h"

#include <gtest/gtest.h>

#include "io/write/csv/plan_csv.h"
#include "tests/io/write/hand_made.h"

namespace standpoint {
namespace {

using Records = std::vector<std::vector<std::string>>;

/// Reads RFC 4180, section 2, and nothing more lenient; shares no code with the writer.
Records parsed(const std::string& csv) {
  Records records(1, {""});
  bool is_quoted = false;
  for (std::size_t i = 0; i < csv.size(); ++i) {
    std::string& field = records.back().back();
    if (is_quoted) {
      if (csv[i] != '"') {
        field += csv[i];
      } else if (i + 1 < csv.size() && csv[i + 1] == '"') {
        field += csv[++i];
      } else {
        is_quoted = false;
      }
    } else if (csv[i] == '"') {
      EXPECT_TRUE(field.empty()) << "a quote inside a bare field";
      is_quoted = true;
    } else if (csv[i] == ',') {
      records.back().emplace_back();
    } else if (csv.compare(i, 2, "\r\n") == 0) {
      records.push_back({""});
      ++i;
    } else {
      EXPECT_TRUE(csv[i] != '\r' && csv[i] != '\n') << "a bare line end";
      field += csv[i];
    }
  }
  EXPECT_FALSE(is_quoted);
  EXPECT_EQ(records.back(), std::vector<std::string>{""}) << "no line end after the last record";
  records.pop_back();
  return records;
}

TEST(Csv, NastyNamesComeBackAsTheyWere) {
  const std::vector<std::string> fields{"plain", "a,b", "say \"pad\"", "two\r\nlines",
                                        "\n",    " x ", "</script>",   "\xF0\x9F\x94\xA9",
                                        ""};
  const std::string record = csv_record(fields);
  EXPECT_EQ(parsed(record), Records{fields});
  EXPECT_EQ(csv_field("plain"), "plain");
  EXPECT_EQ(csv_field("a,b"), "\"a,b\"");
  EXPECT_EQ(csv_field("say \"pad\""), "\"say \"\"pad\"\"\"");
}

TEST(StationsCsv, HasAHeaderWithUnitsAndOneRecordAStation) {
  const Records records = parsed(stations_csv(hand_made::scene(), hand_made::plan()));
  ASSERT_EQ(records.size(), 3u);
  EXPECT_EQ(records[0], (std::vector<std::string>{"station", "zone", "x (m)", "y (m)", "z (m)",
                                                  "height above zone floor (m)", "nests",
                                                  "features", "feature count"}));
  EXPECT_EQ(records[1],
            (std::vector<std::string>{"S1", "south aisle", "0.500000", "-2.500000", "1.500000",
                                      "1.500000", "N1; N2; N4", "pad-1", "1"}));
  // pad-1 is measured from here as well.
  EXPECT_EQ(records[2], (std::vector<std::string>{"door", "", "3.000000", "-2.500000", "1.400000",
                                                  "", "N1; N2; N4", "pad-1; dowel-3", "2"}));
}

TEST(TouchesCsv, HasEveryTouchFromEveryStationThatMeasuresIt) {
  const Records records = parsed(touches_csv(hand_made::scene(), hand_made::plan()));
  ASSERT_EQ(records.size(), 6u);
  for (const auto& record : records) EXPECT_EQ(record.size(), 17u);
  EXPECT_EQ(records[0][3], "x (m)");
  EXPECT_EQ(records[0][13], "expanded uncertainty (m)");
  EXPECT_EQ(records[1],
            (std::vector<std::string>{"S1", "pad-1", "1", "0.500000", "0.250000", "0.800000",
                                      "0.000000", "0.000000", "1.000000", "full-target", "ball-38",
                                      "0.019050", "0.012500", "0.000040", "", "", ""}));
  // The uncertainty is that of the station that the feature is laid on.
  EXPECT_EQ(records[2][0], "door");
  EXPECT_EQ(records[2][1], "pad-1");
  EXPECT_EQ(records[2][13], "");
  EXPECT_EQ(records[3], (std::vector<std::string>{
                            "door", "dowel-3", "1", "0.080000", "0.040000", "0.800000", "0.000000",
                            "0.000000", "1.000000", "offset-stylus", "mirror-6", "0.003000",
                            "0.003250", "0.000060", "0.600000", "0.000000", "0.800000"}));
  EXPECT_EQ(records[4][0], "");
  EXPECT_EQ(records[4][1], "boss");
  EXPECT_EQ(records[4][9], "blocked");
}

TEST(TouchesCsv, AMarginWithoutBoundIsEmpty) {
  Plan plan = hand_made::plan();
  plan.stations[0].sight.features[0].by_target[0]->margin = std::numeric_limits<double>::infinity();
  EXPECT_EQ(parsed(touches_csv(hand_made::scene(), plan))[1][12], "");
}

}  // namespace
}  // namespace standpoint
