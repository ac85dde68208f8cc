#include "io/write/text/advice_text.h"

#include <ostream>

#include <fmt/format.h>

#include "io/words/advice_words.h"
#include "io/words/lengths.h"
#include "io/words/table.h"
#include "io/words/text.h"
#include "planner/network/decision.h"
#include "planner/network/network.h"

namespace standpoint {
namespace {

/// A job has dozens of nests; those whose loss hurts least need no line on the terminal.
constexpr std::size_t kLossesShown = 5;

void print_list(const char* title, const std::vector<std::string>& sentences, std::ostream& out) {
  if (sentences.empty()) return;
  out << '\n' << title << '\n';
  for (const std::string& sentence : sentences) out << "  - " << for_terminal(sentence) << '\n';
}

std::string limits_text(const Scene& scene, double tolerance, double expanded) {
  const GuardedLimits limits = guarded_zone(tolerance, expanded);
  if (!limits.acceptance) return "none: the guard bands meet";
  return length_text(scene, limits.acceptance->low, step::kUncertainty) + " to " +
         length_text(scene, limits.acceptance->high, step::kUncertainty);
}

}  // namespace

void print_uncertainty(const Scene& scene, const Plan& plan, std::ostream& out) {
  Table table{{{"feature"},
               {fmt::format("U, k = 2 ({})", scene.units), Align::right},
               {"along"},
               {"tolerance", Align::right},
               {"ratio", Align::right},
               {"acceptance limits"}},
              {}};
  for (const PlannedFeature& planned : plan.features) {
    if (!planned.uncertainty) continue;
    const Feature& feature = scene.features[planned.feature.index];
    const double expanded = planned.uncertainty->expanded;
    const Vec3 along = greatest_direction(planned.uncertainty->covariance);
    table.rows.push_back(
        {feature.name, length_text(scene, expanded, step::kUncertainty),
         fmt::format("{}, {}, {}", fixed_text(along.x(), 2), fixed_text(along.y(), 2),
                     fixed_text(along.z(), 2)),
         feature.tolerance ? length_text(scene, *feature.tolerance, step::kUncertainty) : "-",
         feature.tolerance ? fixed_text(tolerance_ratio(*feature.tolerance, expanded), 1) : "-",
         feature.tolerance ? limits_text(scene, *feature.tolerance, expanded) : "-"});
  }
  if (!table.rows.empty()) out << "\nUncertainty\n";
  print(table, out);
}

void print_advice(const Scene& scene, const Plan& plan, const Advice& advice, std::ostream& out) {
  std::vector<std::string> sentences;
  for (const WorstContributor& contributor : advice.worst)
    sentences.push_back(contributor_sentence(scene, contributor));
  print_list("Worst contributors: the features with the greatest uncertainty", sentences, out);
  sentences.clear();
  for (std::size_t i = 0; i < advice.losses.size() && i < kLossesShown; ++i)
    sentences.push_back(loss_sentence(scene, plan, advice, advice.losses[i]));
  if (advice.losses.size() > kLossesShown)
    sentences.push_back(
        fmt::format("any other of the {} nests would be missed less", advice.losses.size()));
  print_list("If a nest is knocked off", sentences, out);
  print_list("What would help", gain_sentences(scene, advice), out);
  print_list("By the rules of practice", practice_sentences(scene, plan, advice.practice), out);
}

}  // namespace standpoint
