#include "run_program.h"

#include <fstream>
#include <sstream>

#include "io/cli/console.h"
#include "io/cli/run.h"

namespace standpoint::program {

Outcome run_program(const std::vector<std::string>& arguments) {
  std::ostringstream out, err;
  const Console console{out, err, false, nullptr};
  const Exit exit = run(arguments, console);
  return {static_cast<int>(exit), out.str(), err.str()};
}

nlohmann::json read_json(const std::filesystem::path& file) {
  std::ifstream in(file);
  return nlohmann::json::parse(in);
}

void write_text(const std::filesystem::path& file, const std::string& text) {
  std::ofstream(file) << text;
}

}  // namespace standpoint::program
