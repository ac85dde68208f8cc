#include "io/page/engine/standing_engine.h"

#include <algorithm>
#include <utility>

#include <nlohmann/json.hpp>

#include "io/words/json_parts.h"
#include "io/words/names.h"
#include "planner/model/stand.h"

namespace standpoint {
namespace {

bool is_among(const std::vector<std::string>& names, const std::string& name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

Json mark_object(const Scene& scene, const MarkSummary& mark) {
  Json object;
  object["verdict"] = verdict_name(mark.verdict);
  object["target"] = mark.target ? json::text(target_name(scene, *mark.target)) : Json(nullptr);
  object["margin"] = json::length(scene, mark.margin);
  return object;
}

}  // namespace

StandingEngine::StandingEngine(Scene scene, std::vector<Mesh> room)
    : scene_(std::move(scene)), is_hidden_(scene_.bodies.size()), at_hand_(all_targets(scene_)) {
  for (Mesh& mesh : room) meshes_.push_back(std::make_shared<Mesh>(std::move(mesh)));
}

void StandingEngine::build() {
  features_.clear();
  nests_.clear();
  const auto nothing = std::make_shared<const Mesh>();
  Meshes shown;
  for (std::size_t b = 0; b < meshes_.size(); ++b)
    shown.push_back(is_hidden_[b] ? nothing : std::shared_ptr<const Mesh>(meshes_[b]));
  cell_ = std::make_unique<Cell>(scene_, std::move(shown));
  prepare();
}

void StandingEngine::prepare() {
  features_.clear();
  nests_.clear();
  for (std::size_t f = 0; f < scene_.features.size(); ++f)
    features_.emplace_back(*cell_, FeatureId(f), at_hand_);
  for (const Nest& nest : scene_.nests) nests_.emplace_back(*cell_, nest, at_hand_);
}

Sight StandingEngine::sight(const Stance& stance) {
  Sight sight;
  sight.at = stance.at;
  sight.up = stance.up;
  for (FeatureReach& feature : features_) sight.features.push_back(feature.mark(stance));
  for (std::size_t n = 0; n < nests_.size(); ++n)
    sight.nests.push_back({NestId(n), nests_[n].mark(stance)});
  return sight;
}

std::string StandingEngine::marks(const Stance& stance) {
  Json object;
  object["features"] = Json::array();
  object["nests"] = Json::array();
  for (FeatureReach& feature : features_)
    object["features"].push_back(mark_object(scene_, feature.summary(stance)));
  for (NestReach& nest : nests_)
    object["nests"].push_back(mark_object(scene_, nest.summary(stance)));
  return object.dump();
}

std::optional<std::string> StandingEngine::body_in_the_way(const Stance& stance) const {
  const auto body = standpoint::body_in_the_way(*cell_, stance);
  return body ? std::optional(scene_.bodies[body->index].name) : std::nullopt;
}

void StandingEngine::use_at_hand(const std::vector<std::string>& hidden_bodies,
                                 const std::optional<std::vector<std::string>>& targets) {
  at_hand_.clear();
  for (const TargetId target : all_targets(scene_)) {
    if (!targets || is_among(*targets, target_name(scene_, target))) at_hand_.push_back(target);
  }
  bool is_other = false;
  for (std::size_t b = 0; b < scene_.bodies.size(); ++b) {
    const bool is_hidden = is_among(hidden_bodies, scene_.bodies[b].name);
    if (is_hidden == is_hidden_[b]) continue;
    is_other = true;
    is_hidden_[b] = is_hidden;
  }
  is_other ? build() : prepare();
}

}  // namespace standpoint
