#include "io/write/text/why_text.h"

#include "io/write/text/why_plan_text.h"

#include <ostream>
#include <set>

#include <fmt/format.h>

#include "io/words/lengths.h"
#include "io/words/names.h"
#include "io/words/stance_words.h"
#include "io/words/text.h"
#include "io/words/words.h"
#include "io/write/words/measured_words.h"
#include "io/write/words/why_words.h"

namespace standpoint {
namespace {

/// One line for each target and what is in its way; a sentence that an earlier touch already said
/// is not said again.
void print_touch(const Scene& scene, const Diagnosis& diagnosis, std::size_t number,
                 std::set<std::string>& said, std::ostream& out) {
  const ExplainedTouch& touch = diagnosis.touches[number];
  if (touch.mark.verdict != Verdict::blocked && touch.grazes.empty()) return;
  if (diagnosis.touches.size() > 1) {
    out << fmt::format("  touch {} at ({}) {}\n", number + 1,
                       place_text(scene, touch.mark.at, step::kPlace), for_terminal(scene.units));
  }
  for (const ExplainedCause& explained : touch.causes) {
    const std::string sentence = cause_sentence(scene, explained.cause);
    if (!said.insert(sentence).second) continue;
    out << "    - " << for_terminal(sentence) << '\n';
    const Pierced pierced = pierced_by(scene, explained.cause);
    for (const Obstruction& body : explained.bodies) {
      out << "        "
          << for_terminal(obstruction_sentence(scene, pierced, diagnosis.station, body)) << '\n';
    }
  }
  for (const Obstruction& body : touch.grazes) {
    out << "    - tight: "
        << for_terminal(obstruction_sentence(scene, Pierced::beam, diagnosis.station, body))
        << '\n';
  }
}

void print_cures(const Scene& scene, const Cures& cures, bool in_plan, std::ostream& out) {
  out << "\nWhat would fix it, the least effort first"
      << (in_plan ? "; gains and losses are those of the whole plan\n" : "\n");
  int number = 0;
  for (const Cure& cure : cures.cures) {
    out << fmt::format("  {}. {}\n", ++number, for_terminal(cure_sentence(scene, cure)));
  }
  if (!cures.cures.empty()) return;
  out << "  Nothing that was tried would fix it: heights and shifts within the zone, fixtures, "
         "targets"
      << (in_plan ? ", the plan's other stations" : "") << " and all other candidates.\n";
  if (cures.nearest_miss && cures.nearest_margin) {
    out << fmt::format("  Nearest miss: from ({}) {}{}, with a margin of {}.\n",
                       place_text(scene, *cures.nearest_miss, step::kPlace),
                       for_terminal(scene.units), after_place(cures.nearest_up),
                       length_with_unit(scene, *cures.nearest_margin, step::kMargin));
  }
}

/// What was asked about, from where, and the answer in a word.
void print_verdict(const Scene& scene, const Diagnosis& diagnosis, std::ostream& out) {
  out << fmt::format("{}, seen from ({}) {}{}: {}",
                     for_terminal(subject_name(scene, diagnosis.subject)),
                     place_text(scene, diagnosis.station, step::kPlace), for_terminal(scene.units),
                     after_place(diagnosis.up), verdict_words(diagnosis.mark.verdict));
  if (diagnosis.mark.margin) {
    out << fmt::format(", margin {}",
                       length_with_unit(scene, *diagnosis.mark.margin, step::kMargin));
  }
  out << '\n';
}

}  // namespace

void print_why(const WhyAnswer& answer, std::ostream& out) {
  const Scene& scene = answer.cell.scene();
  const Diagnosis& diagnosis = answer.diagnosis;
  print_measured(scene, answer.place, out);
  print_verdict(scene, diagnosis, out);
  for (const auto& reached : diagnosis.mark.by_target) {
    if (!reached || !reached->shank_direction) continue;
    out << fmt::format("  {} held {}\n", for_terminal(target_name(scene, reached->target)),
                       direction_words(*reached->shank_direction));
    break;
  }
  std::set<std::string> said;
  for (std::size_t i = 0; i < diagnosis.touches.size(); ++i) {
    print_touch(scene, diagnosis, i, said, out);
  }
  if (answer.plan) print_why_plan(scene, *answer.plan, diagnosis.subject, out);
  if (diagnosis.mark.verdict == Verdict::blocked || !diagnosis.cures.cures.empty()) {
    print_cures(scene, diagnosis.cures, answer.plan.has_value(), out);
  }
  if (diagnosis.station_shift || diagnosis.part_shift) out << "\nHow steady it is\n";
  if (diagnosis.station_shift) {
    out << "  " << steadiness_sentence(scene, *diagnosis.station_shift, "the station") << '\n';
  }
  if (diagnosis.part_shift) {
    out << "  " << steadiness_sentence(scene, *diagnosis.part_shift, "the part") << '\n';
  }
}

}  // namespace standpoint
