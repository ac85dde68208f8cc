#include <fmt/format.h>

#include "io/words/lengths.h"
#include "io/words/stance_words.h"
#include "io/write/qif/qif_parts-inl.h"
#include "planner/crew/work_order.h"

namespace standpoint::qif {
namespace {

std::string_view stage_words(WorkStage stage) {
  switch (stage) {
    case WorkStage::alignment:
      return "features that hold the part's frame, before all else";
    case WorkStage::nests_first:
      return "nests, before the other features";
    case WorkStage::features:
      return "features";
    case WorkStage::nests_again:
      return "the same nests again";
  }
  return "";
}

/// A numbered step in a list of steps.
pugi::xml_node add_step(pugi::xml_node steps, const char* element) {
  pugi::xml_node step = steps.append_child("NumberedPlanElement");
  set_count(steps);
  add(step, "SequenceNumber", steps.attribute("n").as_uint());
  return step.append_child(element);
}

class StepLists {
 public:
  StepLists(const Scene& scene, const Plan& plan, const ItemIds& items, Ids& ids)
      : scene_(scene), plan_(plan), items_(items), ids_(ids) {}

  void add_all(std::uint32_t instrument, pugi::xml_node document) {
    pugi::xml_node plan = document.append_child("Plan");
    instructions_ = plan.append_child("WorkInstructions");
    pugi::xml_node methods = plan.append_child("ActionMethods");
    for (const TargetId target : all_targets(scene_)) add_method(target, instrument, methods);
    set_count(methods);
    pugi::xml_node steps = plan.append_child("OrderedPlanRoot").append_child("Steps");
    const std::vector<StationWork> work = order_work(scene_, plan_);
    for (std::size_t s = 0; s < plan_.stations.size(); ++s)
      add_station(plan_.stations[s], work[s], steps);
    set_count(instructions_);
  }

 private:
  void add_method(TargetId target, std::uint32_t instrument, pugi::xml_node methods) {
    pugi::xml_node method = methods.append_child("LaserTrackerMeasureFeatureMethod");
    methods_.push_back(identify(method, ids_));
    add_ids(method, "ChosenResourceIds", {instrument});
    add_attribute(method, "target", target_name(scene_, target));
  }

  void add_station(const PlannedStation& station, const StationWork& work, pugi::xml_node steps) {
    pugi::xml_node group = add_step(steps, "OrderedActionGroup");
    pugi::xml_node text = instructions_.append_child("TextInstruction");
    const std::uint32_t instruction = identify(text, ids_);
    add(text, "TextInstruction",
        fmt::format("Station {}: put the measuring centre at {} ({}){}.", station.name,
                    place_text(scene_, station.at, step::kPlace), scene_.units,
                    after_place(station.up)));
    add_ids(group, "WorkInstructionIds", {instruction});
    add_attribute(group, "station", station.name);
    add_attribute(group, "measuring centre", place_text_of(scene_, station.at));
    pugi::xml_node turns = group.append_child("Steps");
    for (const TargetTurn& turn : work.turns) add_turn(turn, turns);
    // A station without work has no steps, which the schema does not allow.
    if (!turns.first_child()) {
      group.remove_child(turns);
      pugi::xml_node halt = add_step(group.append_child("Steps"), "Halt");
      add_attribute(halt, "stage", "nothing is measured from here");
    }
  }

  void add_turn(const TargetTurn& turn, pugi::xml_node turns) {
    pugi::xml_node action = add_step(turns, "MeasureSpecifiedFeatures");
    add_attribute(action, "stage", stage_words(turn.stage));
    add(action, "PreferredActionMethodId", methods_[turn.target.index]);
    std::vector<std::uint32_t> ids;
    for (const NestId nest : turn.nests) ids.push_back(items_.nests[nest.index]);
    for (const FeatureId feature : turn.features) ids.push_back(items_.features[feature.index]);
    add_ids(action, "FeatureItemIds", ids);
  }

  const Scene& scene_;
  const Plan& plan_;
  const ItemIds& items_;
  Ids& ids_;
  pugi::xml_node instructions_;
  std::vector<std::uint32_t> methods_;  ///< by TargetId
};

}  // namespace

void add_steps(const Scene& scene, const Plan& plan, const ItemIds& items, std::uint32_t instrument,
               pugi::xml_node document, Ids& ids) {
  if (plan.stations.empty()) return;
  StepLists(scene, plan, items, ids).add_all(instrument, document);
}

}  // namespace standpoint::qif
