#include "io/write/json/nests_json.h"

#include <nlohmann/json.hpp>

#include "io/words/json_parts.h"
#include "io/words/lengths.h"
#include "io/words/names.h"
#include "io/words/words.h"
#include "io/write/json/advice_json.h"
#include "io/write/json/plan_json.h"

namespace standpoint {
namespace {

Json site_object(const Scene& scene, const Nest& nest) {
  Json object;
  object["name"] = json::text(nest.name);
  object["at"] = json::place(scene, nest.at);
  object["normal"] = json::direction(nest.normal);
  object["seat"] = json::number(to_degrees(nest.seat_rad));
  return object;
}

Json optimality_object(const NestChoice& choice) {
  Json object;
  object["status"] = proof_name(proof_of(choice));
  object["nests"] = choice.cell.scene().nests.size();
  object["lower_bound"] =
      choice.existing + static_cast<std::size_t>(std::max(0, choice.answer.lower_bound));
  object["bounded"] = Json::array();
  for (const std::string& sentence : bounded_sentences(choice))
    object["bounded"].push_back(json::text(sentence));
  return object;
}

Json bound_object(const Scene& scene, const NestChoice& choice) {
  if (!scene.rules.max_expanded) return nullptr;
  Json object;
  object["asked"] = json::length(scene, *scene.rules.max_expanded);
  object["is_met"] = choice.answer.is_met;
  if (!choice.answer.is_met && choice.answer.least_possible > 0)
    object["least_possible"] = json::length(scene, choice.answer.least_possible);
  return object;
}

}  // namespace

ProofStatus proof_of(const NestChoice& choice) {
  const bool is_count_proven =
      static_cast<int>(choice.answer.sites.size()) == choice.answer.lower_bound;
  return choice.answer.is_tied && choice.answer.is_met && is_count_proven &&
                 choice.answer.is_worst_proven
             ? ProofStatus::optimal
             : ProofStatus::feasible;
}

std::vector<std::string> bounded_sentences(const NestChoice& choice) {
  std::vector<std::string> sentences;
  const SubsetAnswer& answer = choice.answer;
  if (!answer.is_tied)
    sentences.emplace_back("no set of sites was found that ties the stations");
  else if (!answer.is_met)
    sentences.emplace_back(
        answer.least_possible > 0
            ? "proven: no set of sites meets max_expanded; the sites are those that tie the "
              "stations best"
            : "no set of sites was found that meets max_expanded");
  else if (static_cast<int>(answer.sites.size()) > answer.lower_bound)
    sentences.emplace_back(
        "smaller sets of sites were searched by exchange, not exhaustively, down to the bound");
  if (answer.is_tied && !answer.is_worst_proven)
    sentences.emplace_back(
        "sets of this size were searched by exchange with restarts, not exhaustively");
  if (!choice.has_tried_all_stations)
    sentences.push_back("sites are proven for the plan's stations; " +
                        counted(static_cast<std::size_t>(choice.station_sets), "set", "sets") +
                        " of stations that are equal in reach and number " +
                        (choice.station_sets == 1 ? "was" : "were") + " looked into, not all");
  return sentences;
}

std::string nests_json(const NestChoice& choice, const Advice& advice, const Cautions& cautions) {
  const Scene& scene = choice.cell.scene();
  Json object;
  object["format"] = "standpoint-nests";
  object["version"] = 1;
  object["scene"] = json::text(scene.name);
  object["units"] = json::text(scene.units);
  object["nests"] = Json::array();
  for (const Nest& nest : scene.nests) object["nests"].push_back(json::text(nest.name));
  object["worst_expanded"] = json::length(scene, choice.answer.worst);
  object["optimality"] = optimality_object(choice);
  object["max_expanded"] = bound_object(scene, choice);
  object["sites"] = Json::array();
  for (std::size_t n = choice.existing; n < scene.nests.size(); ++n)
    object["sites"].push_back(site_object(scene, scene.nests[n]));
  object["sites_offered"] = choice.left.size() + scene.nests.size() - choice.existing;
  object["advice"] = advice_object(scene, choice.plan, advice);
  object["plan"] = plan_object(scene, choice.plan, cautions);
  return json::write(object);
}

}  // namespace standpoint
