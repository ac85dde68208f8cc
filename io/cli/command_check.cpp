#include <ostream>

#include "io/cli/commands.h"
#include "io/use/check_scene.h"
#include "io/words/text.h"
#include "io/write/files/write_files.h"
#include "io/write/sheet/check_sheet.h"
#include "io/write/text/check_text.h"
#include "io/write/words/trap_words.h"

namespace standpoint {
namespace {

/// Draws the scene into the file that was asked for; why that failed, as a sentence.
std::optional<std::string> draw(const CheckAnswer& answer, const std::filesystem::path& file) {
  CheckSheet sheet{check_counts(answer.read.scene),
                   trap_list(answer.read, answer.traps, kMostTrapsTold),
                   check_remarks(answer.read)};
  const std::filesystem::path folder = file.parent_path();
  return write_together(
      folder.empty() ? "." : folder,
      {{file.filename().string(),
        file.extension() == ".svg" ? check_svg(answer.cell) : check_html(answer.cell, sheet)}});
}

}  // namespace

Exit check_command(const Request& request, const Console& console) {
  ProgressLine progress(console.err, console.shows_progress && !request.quiet);
  const auto answer = check_scene(request, attendant_at(console, progress));
  progress.clear();
  if (!answer) return tell_no_answer(answer.error(), request.json, console);
  if (console.is_interrupted()) return tell_failure("interrupted", console);
  if (!request.file.empty()) {
    if (const auto why = draw(*answer, request.file))
      return tell_failure(*why + "; nothing was written", console);
  }
  if (request.json) {
    console.out << check_json(answer->read, answer->traps);
  } else if (!request.quiet) {
    print_check(answer->read, console.out, answer->traps);
    if (!request.file.empty())
      console.out << "\nPlan and elevation are drawn in " << for_terminal(request.file.string())
                  << ".\n";
  }
  return Exit::done;
}

}  // namespace standpoint
