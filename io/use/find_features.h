#pragma once

#include <filesystem>
#include <vector>

#include "io/read/lists/feature_list.h"
#include "io/use/answered.h"
#include "io/use/attendant.h"
#include "io/use/request.h"
#include "planner/part/annotation.h"
#include "planner/part/found_feature.h"

namespace standpoint {

/// What was found in one file.
struct PartAnswer {
  std::filesystem::path file;
  std::string format;           ///< "STEP", "IGES", "CSV", ...
  std::size_t faces = 0;        ///< of its solids
  std::size_t solids = 0;       ///< 0 for a list
  std::size_t loose_faces = 0;  ///< in no solid: not looked at
  /// Only those that are wanted. Of several files each name begins with its file's.
  std::vector<FoundFeature> features;
  std::size_t found = 0;                ///< how many there were before the filter
  std::vector<PassedOver> passed_over;  ///< of a QIF document
  Annotation annotation;                ///< what its file says of tolerances and datums
};

struct FeaturesAnswer {
  std::vector<PartAnswer> parts;  ///< in the order of the files
};

/// Finds what can be measured on the parts in `request.files`, and reads lists of features. Faults
/// of all files are told at once.
[[nodiscard]] Answered<FeaturesAnswer> find_part_features(const Request& request,
                                                          const Attendant& attendant);

}  // namespace standpoint
