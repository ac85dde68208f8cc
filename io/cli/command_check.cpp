#include <ostream>

#include "io/cli/commands.h"
#include "io/read/files/read_scene_file.h"
#include "io/write/text/check_text.h"

namespace standpoint {

Exit check_command(const Request& request, const Console& console) {
  const auto read = read_scene_file(request.scene);
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
