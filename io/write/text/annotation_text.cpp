#include "io/write/text/annotation_text.h"

#include <fmt/format.h>

#include "io/words/tolerance_words.h"
#include "io/words/words.h"

namespace standpoint {

std::vector<std::string> annotation_remarks(const PartAnswer& part) {
  const Annotation& annotation = part.annotation;
  const std::size_t read = annotation.tolerances.size();
  const std::size_t all = read + annotation.not_read.size();
  if (all == 0) return {};
  std::vector<std::string> remarks = {
      fmt::format("{} of {} read from the file (docs/annotation.md).", read,
                  counted(all, "geometric tolerance", "geometric tolerances"))};
  for (const UnreadTolerance& unread : annotation.not_read) {
    remarks.push_back(fmt::format("Tolerance not read: {} ({}): {}.", unread.kind,
                                  entity_words(unread.id, unread.part_file), unread.why));
  }
  std::vector<std::string> on_no_face;
  for (const GeometricTolerance& tolerance : annotation.tolerances) {
    if (tolerance.faces.empty()) on_no_face.push_back(tolerance.text);
  }
  if (!on_no_face.empty()) {
    remarks.push_back(fmt::format("On no face of the part, so that no feature has it: {}.",
                                  fmt::join(on_no_face, "; ")));
  }
  return remarks;
}

}  // namespace standpoint
