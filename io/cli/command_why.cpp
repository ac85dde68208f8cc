#include <ostream>
#include <utility>

#include "io/cli/commands.h"
#include "io/cli/progress.h"
#include "io/use/ask_why.h"
#include "io/words/text.h"
#include "io/write/files/why_files.h"
#include "io/write/json/why_json.h"
#include "io/write/text/why_text.h"

namespace standpoint {
namespace {

std::filesystem::path folder_of(const std::filesystem::path& file) {
  return file.has_parent_path() ? file.parent_path() : std::filesystem::path(".");
}

void tell(const Request& request, const WhyAnswer& answer, const Console& console) {
  if (request.json) {
    console.out << why_json(answer);
    return;
  }
  if (request.quiet) return;
  print_why(answer, console.out);
  if (!request.picture.empty())
    console.out << "\nPicture: " << for_terminal(request.picture.string()) << '\n';
}

}  // namespace

Exit why_command(const Request& request, const Console& console) {
  ProgressLine progress(console.err, false);
  const Attendant attendant = attendant_at(console, progress);
  auto question = take_question(request, attendant);
  if (!question) return tell_no_answer(question.error(), request.json, console);
  const bool draws = !request.picture.empty();
  if (draws) {
    if (const auto why = why_unwritable(folder_of(request.picture)))
      return tell_failure(*why, console);
  }
  const auto answer = ask_why(request, std::move(*question), attendant);
  if (!answer) return tell_no_answer(answer.error(), request.json, console);
  if (draws) {
    auto picture = why_picture(*answer, request.picture.filename().string());
    if (!picture) return tell_failure(picture.error(), console);
    if (const auto why = write_together(folder_of(request.picture), {std::move(*picture)}))
      return tell_failure(*why, console);
  }
  tell(request, *answer, console);
  return answer->diagnosis.mark.verdict == Verdict::blocked ? Exit::blocked : Exit::done;
}

}  // namespace standpoint
