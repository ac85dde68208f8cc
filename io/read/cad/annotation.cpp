#include "io/read/cad/annotation.h"

#include "io/read/cad/annotation_datums.h"
#include "io/read/cad/annotation_records.h"
#include "io/read/cad/annotation_sizes.h"
#include "io/read/cad/annotation_tolerances.h"

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

}  // namespace standpoint
