#include <algorithm>

#include "io/read/scene/scene_limits.h"
#include "io/read/scene/scene_parts.h"
#include "io/words/motion_words.h"
#include "planner/network/alignment.h"

namespace standpoint {
namespace {

constexpr std::string_view kAlignmentKeys = "features, choose";

/// The features that a list names, in its order.
std::vector<FeatureId> read_features_named(const Cursor& at, const SceneReading& reading) {
  std::vector<FeatureId> features;
  for_each_name(at, {"a list of at least one feature's name", 1},
                [&](const Cursor& entry, const std::string& name) {
                  if (const auto index = reading.feature_names.find(entry, name))
                    features.emplace_back(*index);
                });
  return features;
}

/// Tells what the touches of these features, if all are reached, leave free.
void check_holds(const Cursor& at, const std::vector<FeatureId>& features,
                 const SceneReading& reading) {
  if (!at.faults->empty() || features.empty()) return;
  const Scene& scene = reading.result.scene;
  const std::vector<Motion> free = free_motions(nominal_alignment(scene, features));
  if (free.empty()) return;
  const std::string held_by = holding_words(scene, free, features);
  at.fault(
      FaultKind::alignment_free, motions_words(scene, free),
      held_by.empty() ? "no feature of the scene would hold that" : held_by + " would hold it");
}

}  // namespace

void read_alignment(const Cursor& at, SceneReading& reading) {
  Scene& scene = reading.scene();
  scene.alignment.reset();
  if (at.value == nullptr) return;
  const ObjectCursor object(at);
  if (!object.is_object()) return;
  object.allow({"features", "form", "choose", "from"});
  Alignment& alignment = scene.alignment.emplace();
  const Cursor named = object.optional("features"), choose = object.optional("choose");
  const Cursor from = object.optional("from");
  if (named.value != nullptr && choose.value != nullptr)
    choose.fault(FaultKind::one_of_keys, kAlignmentKeys);
  if (named.value == nullptr && choose.value == nullptr)
    object.required("features").fault(FaultKind::one_of_keys, kAlignmentKeys);
  if (from.value != nullptr && choose.value == nullptr) from.fault(FaultKind::alignment_not_chosen);
  alignment.features = read_features_named(named, reading);
  alignment.from = read_features_named(from, reading);
  alignment.choose = read_whole(choose, kAlignmentCount);
  if (const auto form = read_number(object.optional("form"), kUncertainty))
    alignment.form = reading.mm(*form);
  check_holds(named, alignment.features, reading);
  check_holds(from, alignment.from, reading);
  for (const FeatureId feature : alignment.features) scene.features[feature.index].required = true;
}

}  // namespace standpoint
