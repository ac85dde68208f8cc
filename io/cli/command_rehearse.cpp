#include <ostream>

#include "io/cli/commands.h"
#include "io/cli/progress.h"
#include "io/use/rehearse_plan.h"
#include "io/write/json/rehearsal_json.h"
#include "io/write/text/rehearsal_text.h"

namespace standpoint {

Exit rehearse_command(const Request& request, const Console& console) {
  ProgressLine progress(console.err, console.shows_progress && !request.quiet);
  const auto answer = rehearse_plan(request, attendant_at(console, progress));
  progress.clear();
  if (!answer) return tell_no_answer(answer.error(), request.json, console);
  const Scene& scene = answer->cell.scene();
  if (request.json) {
    console.out << rehearsal_json(scene, answer->plan, answer->rehearsal);
  } else if (!request.quiet) {
    print_rehearsal(scene, answer->plan, answer->rehearsal, console.out);
  }
  return Exit::done;
}

}  // namespace standpoint
