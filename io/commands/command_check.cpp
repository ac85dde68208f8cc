#include <ostream>

#include "io/commands/check_text.h"
#include "io/commands/commands.h"
#include "io/scene/read_scene.h"

namespace standpoint {

Exit check_command(const Request& request, const Console& console) {
  const auto read = read_scene(request.scene);
  if (!read) return tell_faults(read.error(), request.json, console);
  if (console.is_interrupted()) return tell_failure("interrupted", console);
  if (request.json) {
    console.out << check_json(*read);
  } else if (!request.quiet) {
    print_check(*read, console.out);
  }
  return Exit::done;
}

}  // namespace standpoint
