#include <ostream>

#include "io/cli/commands.h"
#include "io/use/compare_plans.h"
#include "io/write/json/comparison_json.h"
#include "io/write/text/comparison_text.h"

namespace standpoint {

Exit compare_command(const Request& request, const Console& console) {
  const auto answer = compare_plans(request);
  if (!answer) return tell_no_answer(answer.error(), request.json, console);
  if (request.json) {
    console.out << comparison_json(*answer);
  } else if (!request.quiet) {
    print_comparison(*answer, request.files[0].string(), request.files[1].string(), console.out);
    if (request.details) print_comparison_details(*answer, console.out);
  }
  return Exit::done;
}

}  // namespace standpoint
