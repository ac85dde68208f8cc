#include <ostream>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "io/cli/commands.h"
#include "io/use/pack_scene.h"
#include "io/words/json_parts.h"
#include "io/words/text.h"
#include "io/words/words.h"
#include "io/write/files/write_files.h"
#include "io/write/files/zip_bytes.h"

namespace standpoint {
namespace {

std::string pack_json(const Request& request, const std::vector<OutFile>& files,
                      std::size_t zip_size) {
  Json object;
  object["format"] = "standpoint-pack";
  object["version"] = 1;
  object["file"] = json::text(request.file.string());
  object["bytes"] = zip_size;
  object["files"] = Json::array();
  for (const OutFile& file : files)
    object["files"].push_back({{"name", json::text(file.name)}, {"bytes", file.bytes.size()}});
  return json::write(object);
}

}  // namespace

Exit pack_command(const Request& request, const Console& console) {
  ProgressLine progress(console.err, console.shows_progress && !request.quiet);
  const std::filesystem::path folder = request.file.parent_path();
  const std::filesystem::path into = folder.empty() ? "." : folder;
  if (const auto why = why_unwritable(into)) return tell_failure(*why, console);
  auto answer = pack_scene(request, attendant_at(console, progress));
  progress.clear();
  if (!answer) return tell_nothing_written(answer.error(), request.json, console);
  std::vector<OutFile> files;
  for (ScenePiece& piece : answer->pieces)
    files.push_back({std::move(piece.name), std::move(piece.bytes)});
  std::string zip = zip_bytes(files);
  const std::size_t size = zip.size();
  if (console.is_interrupted()) return tell_nothing_written({{}, "interrupted"}, false, console);
  if (const auto why = write_together(into, {{request.file.filename().string(), std::move(zip)}}))
    return tell_failure(*why + "; nothing was written", console);
  if (request.json) {
    console.out << pack_json(request, files, size);
  } else if (!request.quiet) {
    console.out << fmt::format(
        "Written to {}: {}, {} bytes. The scene has {}, {} and {}.\n",
        for_terminal(request.file.string()), counted(files.size(), "file", "files"), size,
        counted(answer->bodies, "body", "bodies"), counted(answer->features, "feature", "features"),
        counted(answer->nests, "nest", "nests"));
  }
  return Exit::done;
}

}  // namespace standpoint
