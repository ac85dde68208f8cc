#include <ostream>

#include "io/cli/commands.h"
#include "io/cli/progress.h"
#include "io/use/ask_why.h"
#include "io/words/text.h"
#include "io/write/drawings/beam_picture.h"
#include "io/write/drawings/svg_to_png.h"
#include "io/write/files/write_files.h"
#include "io/write/json/why_json.h"
#include "io/write/text/why_text.h"
#include "io/write/words/measured_words.h"

namespace standpoint {
namespace {

std::filesystem::path folder_of(const std::filesystem::path& file) {
  return file.has_parent_path() ? file.parent_path() : std::filesystem::path(".");
}

/// Draws into the file that was asked for; why it could not, as a sentence.
std::optional<std::string> write_picture(const Cell& cell, const Diagnosis& diagnosis,
                                         const std::filesystem::path& file) {
  constexpr double kPixels = 2;  // to each unit: sharp on paper 180 mm wide
  auto drawn = draw_beam_picture(cell, diagnosis);
  if (!drawn) return "there is no picture: no target was tried, so there is no beam to look along";
  if (file.extension() == ".png") {
    auto png = svg_to_png(*drawn, kPixels);
    if (!png) return png.error();
    drawn = std::move(*png);
  }
  return write_together(folder_of(file), {{file.filename().string(), std::move(*drawn)}});
}

void tell(const Request& request, const WhyAnswer& answer, const Console& console) {
  const Scene& scene = answer.cell.scene();
  const WhyPlan* const plan = answer.plan ? &*answer.plan : nullptr;
  if (request.json) {
    console.out << why_json(scene, answer.diagnosis, answer.place, plan);
    return;
  }
  if (request.quiet) return;
  print_measured(scene, answer.place, console.out);
  print_why(scene, answer.diagnosis, console.out, plan);
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
    if (const auto why = write_picture(answer->cell, answer->diagnosis, request.picture))
      return tell_failure(*why, console);
  }
  tell(request, *answer, console);
  return answer->diagnosis.mark.verdict == Verdict::blocked ? Exit::blocked : Exit::done;
}

}  // namespace standpoint
