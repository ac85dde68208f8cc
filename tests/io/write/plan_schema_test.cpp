// What breaks the schema of a plan is told: tried on the hand-made one.

#include <string>
#include <utility>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/io/schema_check.h"
#include "tests/io/write/plan_document.h"

namespace standpoint {
namespace {

using hand_made::plan_document;
using schema_check::Json;
using testing::Contains;
using testing::HasSubstr;
using testing::IsEmpty;

std::vector<std::string> faults_of_plan(const Json& plan) {
  return schema_check::schemas().faults("plan.schema.json", plan);
}

TEST(WrittenPlanSchema, TheHandMadePlanKeepsToItsSchema) {
  EXPECT_THAT(faults_of_plan(plan_document()), IsEmpty());
}

TEST(WrittenPlanSchema, AKeyThatTheSchemaDoesNotNameIsTold) {
  Json plan = plan_document();
  plan["features"][0]["touches"][0]["colour"] = "red";
  EXPECT_THAT(faults_of_plan(plan),
              Contains(HasSubstr("/features/0/touches/0: has the key colour")));
  plan = plan_document();
  plan["comment"] = "";
  EXPECT_THAT(faults_of_plan(plan), Contains(HasSubstr("has the key comment")));
  // Behind a choice between an object and null, too.
  plan = plan_document();
  plan["features"][0]["uncertainty"]["extended"] = 1;
  EXPECT_THAT(faults_of_plan(plan), Contains(HasSubstr("/features/0/uncertainty: has the key")));
}

TEST(WrittenPlanSchema, AMisspeltKeyIsToldTwice) {
  Json plan = plan_document();
  plan["stations"][0]["zones"] = plan["stations"][0]["zone"];
  plan["stations"][0].erase("zone");
  const auto faults = faults_of_plan(plan);
  EXPECT_THAT(faults, Contains(HasSubstr("/stations/0: lacks zone")));
  EXPECT_THAT(faults, Contains(HasSubstr("/stations/0: has the key zones")));
}

TEST(WrittenPlanSchema, AValueOfAnotherFormIsTold) {
  const auto faults_with = [](const char* pointer, const Json& value) {
    Json plan = plan_document();
    plan.at(Json::json_pointer(pointer)) = value;
    return faults_of_plan(plan);
  };
  const std::vector<std::pair<const char*, Json>> wrong{
      {"/version", 2},
      {"/units", "yard"},
      {"/stations/0/at", {1, 2}},
      {"/stations/0/at/1", "2"},
      {"/stations/0/at/1", nullptr},
      {"/stations/0/nests/0", 4},
      {"/stations/0/pose_uncertainty/5/5", nullptr},
      {"/features/0/verdict", "reached"},
      {"/features/0/required", "yes"},
      {"/features/0/uncertainty/expanded", -1},
      {"/features/0/touches", Json::array()},
      {"/features/2/nearest_miss/touches/0/causes/0/cause", "fog"},
      {"/links/0/stations", {"S1"}},
      {"/optimality/stations", 1.5},
      {"/candidates/dropped", {{"duplicate", 1}}},
  };
  for (const auto& [pointer, value] : wrong)
    EXPECT_THAT(faults_with(pointer, value), Contains(HasSubstr(pointer)))
        << pointer << " = " << value;
}

TEST(WrittenPlanSchema, AFieldWithoutItsCompanionIsTold) {
  Json plan = plan_document();
  plan["features"][0].erase("ratio");
  EXPECT_THAT(faults_of_plan(plan), Contains(HasSubstr("has tolerance without ratio")));
}

}  // namespace
}  // namespace standpoint
