#include "io/page/engine/standing_engine.h"

#include <algorithm>
#include <limits>
#include <utility>

#include <nlohmann/json.hpp>

#include "io/words/json_parts.h"
#include "io/words/names.h"
#include "planner/model/stand.h"
#include "planner/reach/split.h"

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

/// Margins in mm: an infinite one as `kFree`, since JSON has no such number.
constexpr double kFree = 1e300;

Json parts_object(const Scene& scene, const std::vector<FeatureReach::PartMargins>& parts) {
  Json list = Json::array();
  for (const FeatureReach::PartMargins& part : parts) {
    Json margins = Json::array();
    for (const std::optional<double>& margin : part.margins)
      margins.push_back(margin ? Json(std::min(*margin, kFree)) : Json(nullptr));
    list.push_back(
        {{"target", json::text(target_name(scene, part.target))}, {"margins", std::move(margins)}});
  }
  return list;
}

/// A feature as one place sees it, from what `parts_object` told of it.
FeatureMark mark_from(const FeatureReach& feature, const Scene& scene, const Json& told) {
  std::vector<FeatureReach::PartMargins> parts;
  for (const TargetId target : all_targets(scene)) {
    if (!told.is_array()) break;
    for (const Json& part : told) {
      if (part.at("target") != target_name(scene, target)) continue;
      FeatureReach::PartMargins& read = parts.emplace_back(FeatureReach::PartMargins{target, {}});
      for (const Json& margin : part.at("margins")) {
        if (margin.is_null()) {
          read.margins.emplace_back();
        } else {
          const double mm = margin.get<double>();
          read.margins.emplace_back(mm >= kFree ? std::numeric_limits<double>::infinity() : mm);
        }
      }
    }
  }
  FeatureMark mark = feature.mark_of(parts);
  if (told == true) mark.verdict = Verdict::full_target;  // by which target does not matter here
  return mark;
}

Json shared_object(const Scene& scene, const SharedMark& shared) {
  Json object = mark_object(scene, {shared.mark.verdict, shared.mark.target, shared.mark.margin});
  object["touches"] = Json::array();
  for (const std::optional<std::size_t>& place : shared.taken_by)
    object["touches"].push_back(place ? Json(*place) : Json(nullptr));
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
  for (FeatureReach& feature : features_) {
    const MarkSummary summary = feature.summary(stance);
    object["features"].push_back(mark_object(scene_, summary));
    if (summary.verdict != Verdict::blocked) continue;
    const auto parts = feature.part_margins(stance);
    if (!parts.empty()) object["features"].back()["parts"] = parts_object(scene_, parts);
  }
  for (NestReach& nest : nests_)
    object["nests"].push_back(mark_object(scene_, nest.summary(stance)));
  return object.dump();
}

std::string StandingEngine::together(const std::string& json) const {
  const Json places = Json::parse(json);
  Json answer = Json::array();
  for (std::size_t f = 0; f < features_.size(); ++f) {
    std::vector<FeatureMark> marks;
    for (const Json& place : places) marks.push_back(mark_from(features_[f], scene_, place.at(f)));
    std::vector<const FeatureMark*> asked;
    for (const FeatureMark& mark : marks) asked.push_back(&mark);
    const auto shared = mark_together(scene_, FeatureId(f), asked);
    answer.push_back(shared ? shared_object(scene_, *shared) : Json(nullptr));
  }
  return answer.dump();
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
