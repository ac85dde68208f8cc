// Annotation through the pipe of the importer's process.

#include "io/read/bodies/part_pipe.h"

#include <array>

#include <gtest/gtest.h>
#include <unistd.h>

namespace standpoint {
namespace {

ReadPart annotated_part() {
  ReadPart part;
  part.format = "STEP";
  GeometricTolerance tolerance;
  tolerance.id = 12;
  tolerance.kind = ToleranceKind::total_runout;
  tolerance.zone = ZoneShape::diameter;
  tolerance.width = 0.1;
  tolerance.datums = {"A", "B-C(M)"};
  tolerance.modifiers = {"(F)"};
  tolerance.faces = {3, 1000000};
  tolerance.whole_part = true;
  tolerance.name = std::string("with\0nothing", 12);
  tolerance.text = "total run-out 0.1";
  tolerance.part_file = "lid.step";
  part.annotation.tolerances = {tolerance, {}};
  part.annotation.not_read = {{7, "FUTURE", "", "its kind is not known", "pin.step"}};
  part.annotation.datums = {{"A", {}, true, {}}, {"B", {4, 5}, false, "seat.step"}};
  SizeTolerance size;
  size.id = 9;
  size.name = "diameter";
  size.is_angle = true;
  size.lower = -0.5;
  size.upper = 0.25;
  size.faces = {8};
  size.part_file = "ring.step";
  part.annotation.sizes = {size, size};
  part.annotation.sizes[1].nominal = 20;
  return part;
}

FromPipe<ReadPart> sent_through(const ReadPart& part) {
  std::array<int, 2> ends{};
  EXPECT_EQ(::pipe(ends.data()), 0);
  EXPECT_TRUE(write_to_pipe(ends[1], part));  // less than a pipe holds
  ::close(ends[1]);
  FromPipe<ReadPart> got = read_part_from_pipe(ends[0]);
  ::close(ends[0]);
  return got;
}

TEST(AnnotationPipe, AllOfItComesBack) {
  const Annotation sent = annotated_part().annotation;
  const auto part = sent_through(annotated_part());
  ASSERT_TRUE(part.is_whole && part.read);
  const Annotation& got = part.read->annotation;
  ASSERT_EQ(got.tolerances.size(), 2U);
  EXPECT_EQ(got.tolerances[0].id, 12U);
  EXPECT_EQ(got.tolerances[0].kind, ToleranceKind::total_runout);
  EXPECT_EQ(got.tolerances[0].zone, ZoneShape::diameter);
  EXPECT_EQ(got.tolerances[0].width, 0.1);
  EXPECT_EQ(got.tolerances[0].datums, sent.tolerances[0].datums);
  EXPECT_EQ(got.tolerances[0].modifiers, sent.tolerances[0].modifiers);
  EXPECT_EQ(got.tolerances[0].faces, sent.tolerances[0].faces);
  EXPECT_TRUE(got.tolerances[0].whole_part);
  EXPECT_EQ(got.tolerances[0].name, sent.tolerances[0].name);
  EXPECT_EQ(got.tolerances[0].text, sent.tolerances[0].text);
  EXPECT_EQ(got.tolerances[0].part_file, "lid.step");
  EXPECT_EQ(got.tolerances[1].part_file, "");
  EXPECT_FALSE(got.tolerances[1].whole_part);
  ASSERT_EQ(got.not_read.size(), 1U);
  EXPECT_EQ(got.not_read[0].id, 7U);
  EXPECT_EQ(got.not_read[0].kind, "FUTURE");
  EXPECT_EQ(got.not_read[0].why, sent.not_read[0].why);
  EXPECT_EQ(got.not_read[0].part_file, "pin.step");
  ASSERT_EQ(got.datums.size(), 2U);
  EXPECT_TRUE(got.datums[0].by_targets);
  EXPECT_EQ(got.datums[1].letter, "B");
  EXPECT_EQ(got.datums[1].faces, sent.datums[1].faces);
  EXPECT_EQ(got.datums[1].part_file, "seat.step");
  ASSERT_EQ(got.sizes.size(), 2U);
  EXPECT_EQ(got.sizes[1].part_file, "ring.step");
  EXPECT_TRUE(got.sizes[0].is_angle);
  EXPECT_FALSE(got.sizes[0].nominal);
  EXPECT_EQ(got.sizes[1].nominal, 20);
  EXPECT_EQ(got.sizes[1].lower, -0.5);
  EXPECT_EQ(got.sizes[1].upper, 0.25);
  EXPECT_EQ(got.sizes[1].faces, sent.sizes[1].faces);
}

TEST(AnnotationPipe, KindOutOfRangeIsNotWhole) {
  ReadPart part = annotated_part();
  part.annotation.tolerances[0].kind = static_cast<ToleranceKind>(99);
  EXPECT_FALSE(sent_through(part).is_whole);
}

}  // namespace
}  // namespace standpoint
