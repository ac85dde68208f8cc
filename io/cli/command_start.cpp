#include <filesystem>
#include <fstream>
#include <iterator>
#include <optional>
#include <ostream>
#include <string>
#include <system_error>
#include <vector>

#include "io/cli/commands.h"
#include "io/use/start_scene.h"
#include "io/write/csv/list_csv.h"
#include "io/write/files/write_files.h"
#include "io/write/json/start_json.h"
#include "io/write/text/start_text.h"

namespace standpoint {
namespace {

namespace fs = std::filesystem;

/// What stands in the folder and is not what would be written: somebody's work.
Faults changed_files(const fs::path& folder, const std::vector<OutFile>& files) {
  Faults faults;
  for (const OutFile& file : files) {
    const fs::path place = folder / file.name;
    std::error_code error;
    if (!fs::is_regular_file(place, error)) continue;
    std::ifstream in(place, std::ios::binary);
    const std::string bytes{std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
    if (bytes == file.bytes) continue;
    faults.push_back({place.string(), "another file than would be written",
                      "a folder without it, since it may have been changed by hand; --replace "
                      "writes over it",
                      FaultKind::other, ""});
  }
  return faults;
}

}  // namespace

Exit start_command(const Request& request, const Console& console) {
  ProgressLine progress(console.err, console.shows_progress && !request.quiet);
  const auto scene = start_scene(request, attendant_at(console, progress));
  progress.clear();
  if (!scene) return tell_nothing_written(scene.error(), request.json, console);
  const StartText text = start_text(*scene);
  std::vector<OutFile> files{{kSceneFile, text.text}};
  if (!scene->features.empty())
    files.push_back({kFeatureList, feature_list_csv(scene->features, "mm")});
  if (!request.replace) {
    const Faults changed = changed_files(request.folder, files);
    if (!changed.empty()) return tell_faults(changed, request.json, console);
  }
  if (const auto why = write_together(request.folder, files))
    return tell_failure(*why + "; nothing was written", console);
  if (request.json) {
    console.out << start_json(*scene, text, request.folder);
  } else if (!request.quiet) {
    print_start(*scene, text, request.folder, console.out);
  }
  return Exit::done;
}

}  // namespace standpoint
