#include "io/read/cad/annotation.h"

#include <algorithm>
#include <utility>

#include "io/read/cad/annotation_datums.h"
#include "io/read/cad/annotation_records.h"
#include "io/read/cad/annotation_sizes.h"
#include "io/read/cad/annotation_tolerances.h"
#include "io/words/tolerance_words.h"

namespace standpoint {

Annotation read_annotation(std::string_view step_text,
                           const std::map<std::uint64_t, std::size_t>& face_numbers) {
  const AnnotationRecords records(step_text, face_numbers);
  Annotation annotation;
  read_tolerances(records, annotation);
  annotation.datums = read_datums(records);
  annotation.sizes = read_sizes(records);
  return annotation;
}

void add_annotation_of(const std::string& part_file, Annotation of_part, Annotation& all) {
  for (GeometricTolerance& tolerance : of_part.tolerances) {
    tolerance.part_file = part_file;
    tolerance.text = tolerance_words(tolerance);
    all.tolerances.push_back(std::move(tolerance));
  }
  for (UnreadTolerance& unread : of_part.not_read) {
    unread.part_file = part_file;
    all.not_read.push_back(std::move(unread));
  }
  for (DatumFeature& datum : of_part.datums) {
    datum.part_file = part_file;
    all.datums.push_back(std::move(datum));
  }
  for (SizeTolerance& size : of_part.sizes) {
    size.part_file = part_file;
    all.sizes.push_back(std::move(size));
  }
  std::stable_sort(
      all.datums.begin(), all.datums.end(),
      [](const DatumFeature& a, const DatumFeature& b) { return a.letter < b.letter; });
}

}  // namespace standpoint
