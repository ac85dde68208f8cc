#include "io/write/text/start_text.h"

#include <algorithm>
#include <ostream>

#include <fmt/format.h>

#include "io/words/paragraph.h"
#include "io/words/text.h"

namespace standpoint {

void print_start(const StartScene& scene, const StartText& text,
                 const std::filesystem::path& folder, std::ostream& out) {
  const std::string file = (folder / kSceneFile).string();
  out << "Written to " << for_terminal(folder.string()) << ": " << kSceneFile << " ("
      << std::count(text.text.begin(), text.text.end(), '\n') << " lines)";
  if (!scene.features.empty()) out << ", " << kFeatureList;
  out << "\n\nGuessed, each with its line in " << kSceneFile << " and how to change it\n";
  for (const StartGuess& guess : scene.guesses) {
    const std::string line = fmt::format("  line {:>2}  ", text.line_of.at(guess.pointer));
    print_paragraph(
        line, fmt::format("{}: {} To change it: {}", guess.pointer, guess.what, guess.change), out);
  }
  out << "\nNext\n";
  for (const char* command : {"check", "plan"})
    out << "  standpoint " << command << ' ' << for_terminal(file)
        << (command[0] == 'p' ? " -o " + for_terminal((folder / "plan").string()) : "") << '\n';
}

}  // namespace standpoint
