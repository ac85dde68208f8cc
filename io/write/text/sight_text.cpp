#include "io/write/text/sight_text.h"

#include <ostream>

#include <fmt/format.h>

#include "io/words/lengths.h"
#include "io/words/names.h"
#include "io/words/paragraph.h"
#include "io/words/stance_words.h"
#include "io/words/table.h"
#include "io/words/text.h"
#include "io/words/words.h"

namespace standpoint {
namespace {

std::string margin_cell(const Scene& scene, std::optional<double> mm) {
  return mm ? length_text(scene, *mm, step::kMargin) : "-";
}

std::string touches_cell(const FeatureMark& mark) {
  return fmt::format("{} of {}", count_reached(mark), mark.touches.size());
}

void print_blocked(const std::string& name, const std::vector<std::string>& sentences,
                   std::ostream& out) {
  out << "  " << for_terminal(name) << '\n';
  if (sentences.empty()) out << "    - no target of the scene can take it\n";
  for (const std::string& sentence : sentences) print_paragraph("    - ", sentence, out);
}

void print_causes(const Scene& scene, const Sight& sight, std::ostream& out) {
  bool has_title = false;
  const auto title = [&] {
    if (!has_title) out << "\nBlocked, and why\n";
    has_title = true;
  };
  for (const FeatureMark& mark : sight.features) {
    if (mark.verdict != Verdict::blocked) continue;
    title();
    print_blocked(scene.features[mark.feature.index].name, blocked_sentences(scene, mark), out);
  }
  for (const NestMark& mark : sight.nests) {
    if (mark.mark.verdict != Verdict::blocked) continue;
    title();
    std::vector<std::string> sentences;
    for (const Cause& cause : mark.mark.causes) sentences.push_back(cause_sentence(scene, cause));
    print_blocked("nest " + scene.nests[mark.nest.index].name, sentences, out);
  }
}

}  // namespace

void print_sight(const Scene& scene, const Sight& sight, std::ostream& out) {
  out << fmt::format("{}, seen from ({}) {}{}\n\n", for_terminal(scene.name),
                     place_text(scene, sight.at, step::kPlace), for_terminal(scene.units),
                     after_place(sight.up));
  const Column margin{fmt::format("margin ({})", scene.units), Align::right};
  Table features{{{"feature"}, {"verdict"}, {"target"}, margin, {"touches", Align::right}}, {}};
  for (const FeatureMark& mark : sight.features) {
    features.rows.push_back({scene.features[mark.feature.index].name,
                             std::string(verdict_words(mark.verdict)),
                             mark.target ? target_name(scene, *mark.target) : "-",
                             margin_cell(scene, mark.margin), touches_cell(mark)});
  }
  print(features, out);
  Table nests{{{"nest"}, {"verdict"}, {"target"}, margin}, {}};
  for (const NestMark& mark : sight.nests) {
    nests.rows.push_back({scene.nests[mark.nest.index].name,
                          std::string(verdict_words(mark.mark.verdict)),
                          mark.mark.best ? target_name(scene, mark.mark.best->target) : "-",
                          margin_cell(scene, mark.mark.margin)});
  }
  if (!nests.rows.empty()) out << '\n';
  print(nests, out);
  print_causes(scene, sight, out);
}

}  // namespace standpoint
