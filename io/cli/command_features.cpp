#include <ostream>

#include "io/cli/commands.h"
#include "io/use/find_features.h"
#include "io/write/csv/list_csv.h"
#include "io/write/json/features_json.h"
#include "io/write/text/features_text.h"

namespace standpoint {
namespace {

std::string list_of_all(const FeaturesAnswer& answer) {
  std::vector<FoundFeature> all;
  for (const PartAnswer& part : answer.parts)
    all.insert(all.end(), part.features.begin(), part.features.end());
  return feature_list_csv(all, "mm");
}

}  // namespace

Exit features_command(const Request& request, const Console& console) {
  ProgressLine progress(console.err, console.shows_progress && !request.quiet);
  const auto answer = find_part_features(request, attendant_at(console, progress));
  progress.clear();
  if (!answer) return tell_no_answer(answer.error(), request.json, console);
  if (request.json) {
    console.out << features_json(*answer);
  } else if (request.csv) {
    console.out << list_of_all(*answer);
  } else if (!request.quiet) {
    print_features(*answer, request.details, console.out);
  }
  return Exit::done;
}

}  // namespace standpoint
