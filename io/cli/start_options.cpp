#include "io/cli/start_options.h"

#include <string>
#include <utility>

#include <CLI/CLI.hpp>

namespace standpoint {

void add_start_options(CLI::App& app, Typed& typed) {
  app.add_option("-o,--output", typed.folder,
                 "Folder to write scene.json and features.csv into; made where it is missing")
      ->type_name("DIR");
  app.add_option("--features", typed.feature_list,
                 "Take the features from this list instead of looking for them on the part")
      ->type_name("FILE");
  app.add_option("--hall", typed.hall,
                 "A scene file with what stands round the part, and with your instrument, targets, "
                 "nests and zones where it has them: the new scene includes it")
      ->type_name("FILE");
  app.add_flag("--replace", typed.replace,
               "Write over a scene.json or features.csv that has been changed by hand");
}

void read_start_options(const Typed& typed, const CLI::App& app, Request& request, Faults& faults) {
  request.folder = typed.folder;
  request.feature_list = typed.feature_list;
  request.hall = typed.hall;
  request.replace = typed.replace;
  if (typed.folder.empty())
    faults.push_back(lacking_or_empty(app, "-o", "the folder to write into: -o DIR"));
  for (const auto& [option, file] :
       {std::pair("--features", &typed.feature_list), std::pair("--hall", &typed.hall)})
    if (app.count(option) > 0 && file->empty()) faults.push_back(wrong(option, "", "a file"));
}

}  // namespace standpoint
