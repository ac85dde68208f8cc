#pragma once

#include <array>
#include <filesystem>
#include <sstream>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "source_dir.h"
#include "tests/io/cli/whole_program.h"
#include "tests/io/schema_check.h"

namespace standpoint {

/// One line each.
inline std::string listed_lines(const std::vector<std::string>& lines) {
  std::string text;
  for (const std::string& line : lines) text += line + "\n";
  return text;
}

/// Runs the program, and holds all that it writes as JSON to its schema in docs/schemas.
class WrittenByTheProgram : public WholeProgram {
 protected:
  /// A scene of scenes/, with its bodies, in a folder of the test's own.
  schema_check::Json copied(const std::string& name) const {
    std::filesystem::copy(source_dir() / "scenes" / name, folder_ / name);
    return schema_check::Json::parse(got(std::filesystem::path(name) / "scene.json"));
  }
  std::string put_beside(const std::string& file, const schema_check::Json& scene) const {
    put(file, scene.dump());
    return path(file);
  }

  /// What a run writes to standard output keeps to the schema of its format.
  schema_check::Json written(std::vector<std::string> arguments) {
    arguments.emplace_back("--json");
    const Outcome outcome = run(arguments);
    const schema_check::Json object = schema_check::Json::parse(outcome.out, nullptr, false);
    std::string line;
    for (const std::string& argument : arguments) line += argument + " ";
    EXPECT_TRUE(object.is_object()) << line << outcome.out << outcome.err;
    if (object.is_object()) expect_kept(object, line);
    return object;
  }

  void expect_kept(const schema_check::Json& object, const std::string& what) {
    const std::string format = object["format"];
    const std::string file = format.substr(format.find('-') + 1) + ".schema.json";
    ASSERT_EQ(schema_check::schemas().files().count(file), 1u) << file;
    const auto faults = schema_check::schemas().faults(file, object, &uses_);
    EXPECT_TRUE(faults.empty()) << what << '\n' << listed_lines(faults);
  }

  /// What a list of measured nests holds for an instrument at `at`, its axes those of the scene;
  /// one nest is read wrong by `blunder`.
  std::string put_readings(const schema_check::Json& nests, const std::array<double, 3>& at,
                           double blunder) {
    std::ostringstream csv;
    csv.precision(12);
    csv << "name,x,y,z\n";
    for (std::size_t n = 0; n < nests.size(); ++n) {
      csv << nests[n]["name"].get<std::string>();
      for (std::size_t i = 0; i < 3; ++i)
        csv << ',' << nests[n]["at"][i].get<double>() - at[i] + (n == 1 && i == 0 ? blunder : 0);
      csv << '\n';
    }
    put("readings.csv", csv.str());
    return path("readings.csv");
  }

  void write_hand_made();
  void write_wire();
  void write_dowel();
  void write_table();
  void write_leaning();
  void write_nests();
  void write_tied();
  void write_measured_part();
  void write_comparison();
  void write_shared();
  void write_aligned();
  void write_features();
  void write_start();
  void write_further_stations();
  void write_faults();

  schema_check::Uses uses_;
};

}  // namespace standpoint
