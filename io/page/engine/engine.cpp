// The engine as the page's worker calls it: what one place reaches, by the program's own code.
// Plain functions over one scene at a time. Text comes and goes as UTF-8 that ends with 0; what is
// returned is valid until the next call. A function that can fail returns why, else null.

#include <memory>
#include <string>
#include <vector>

#include <emscripten.h>
#include <nlohmann/json.hpp>

#include "geometry/placement.h"
#include "io/page/engine/standing_engine.h"
#include "io/page/engine/station_ties.h"
#include "io/words/json_parts.h"
#include "io/words/names.h"
#include "io/words/words.h"
#include "io/write/json/sight_json.h"
#include "io/write/page/page_scene.h"
#include "planner/reach/nearness.h"

namespace {

using standpoint::StandingEngine;

std::unique_ptr<StandingEngine> engine;
std::string answer;

const char* keep(std::string text) {
  answer = std::move(text);
  return answer.c_str();
}

/// Runs `work`; what it throws comes back as text.
template <class Work>
const char* failure_of(const Work& work) {
  try {
    work();
    return nullptr;
  } catch (const std::bad_alloc&) {
    return keep("the browser gives the page too little memory for this scene");
  } catch (const std::exception& error) {
    return keep(error.what());
  }
}

/// Runs `work`, which gives text; what it throws comes back as text after a "!", which no JSON
/// begins with.
template <class Work>
const char* text_of(const Work& work) {
  std::string text;
  if (const char* failure = failure_of([&] { text = work(); }))
    return keep(std::string("!") + failure);
  return keep(std::move(text));
}

standpoint::Verdict verdict_of(const std::string& name) {
  using standpoint::Verdict;
  for (const Verdict verdict : {Verdict::full_target, Verdict::offset_stylus}) {
    if (name == standpoint::verdict_name(verdict)) return verdict;
  }
  return Verdict::blocked;
}

}  // namespace

extern "C" {

/// Takes the scene (page_scene.h); its meshes are to be filled in through the pointers below.
EMSCRIPTEN_KEEPALIVE const char* engine_take_scene(const char* json) {
  return failure_of([&] {
    engine.reset();
    standpoint::PageScene read = standpoint::read_page_scene(json);
    engine = std::make_unique<StandingEngine>(std::move(read.scene), std::move(read.meshes));
  });
}

/// Three doubles a vertex, mm.
EMSCRIPTEN_KEEPALIVE double* engine_vertices(unsigned body) {
  return engine->mesh(body).vertices.data()->data();
}
/// Makes places of a body's vertices where its file's coordinates were filled in.
EMSCRIPTEN_KEEPALIVE void engine_place(unsigned body) {
  const standpoint::Placement& placement = engine->scene().bodies[body].placement;
  for (standpoint::Vec3& v : engine->mesh(body).vertices) v = placed(placement, v);
}
/// Three indices a triangle.
EMSCRIPTEN_KEEPALIVE std::uint32_t* engine_triangles(unsigned body) {
  return engine->mesh(body).triangles.data()->data();
}
/// One number a triangle; null where the body has no faces.
EMSCRIPTEN_KEEPALIVE std::uint32_t* engine_faces(unsigned body) {
  return engine->mesh(body).face_of_triangle.data();
}

/// Builds the tree; to be called once the meshes are filled in.
EMSCRIPTEN_KEEPALIVE const char* engine_build() {
  return failure_of([] { engine->build(); });
}

/// The object of `sight --json`. x, y, z: of the measuring centre, mm. up_x, up_y, up_z: unit, the
/// instrument's standing axis. So in all that follow.
EMSCRIPTEN_KEEPALIVE const char* engine_sight(double x, double y, double z, double up_x,
                                              double up_y, double up_z) {
  return text_of([&] {
    return sight_json(engine->scene(), engine->sight({{x, y, z}, {up_x, up_y, up_z}}));
  });
}

/// {"sight": that object, "reasons": for each feature why it is blocked, a sentence for each
/// target; an empty list where it is reached}. The sentences are those of `sight` and `why`.
EMSCRIPTEN_KEEPALIVE const char* engine_sight_with_reasons(double x, double y, double z,
                                                           double up_x, double up_y, double up_z) {
  return text_of([&] {
    const standpoint::Sight sight = engine->sight({{x, y, z}, {up_x, up_y, up_z}});
    standpoint::Json reasons = standpoint::Json::array();
    for (const standpoint::FeatureMark& mark : sight.features) {
      standpoint::Json of_feature = standpoint::Json::array();
      if (mark.verdict == standpoint::Verdict::blocked) {
        for (const std::string& sentence : blocked_sentences(engine->scene(), mark))
          of_feature.push_back(standpoint::json::text(sentence + "."));
      }
      reasons.push_back(std::move(of_feature));
    }
    return "{\"sight\": " + sight_json(engine->scene(), sight) +
           ", \"reasons\": " + reasons.dump() + "}";
  });
}

/// Verdict, target and margin alone: engine_client.ts says what the object holds.
EMSCRIPTEN_KEEPALIVE const char* engine_marks(double x, double y, double z, double up_x,
                                              double up_y, double up_z) {
  return text_of([&] { return engine->marks({{x, y, z}, {up_x, up_y, up_z}}); });
}

/// Which stations are tied (station_ties.h), from the names of the verdicts of their nests: a list
/// for each station.
EMSCRIPTEN_KEEPALIVE const char* engine_ties(const char* json) {
  return text_of([&] {
    std::vector<std::vector<standpoint::Verdict>> verdicts;
    for (const auto& station : nlohmann::json::parse(json)) {
      auto& of_station = verdicts.emplace_back();
      for (const auto& name : station) of_station.push_back(verdict_of(name));
    }
    return station_ties(engine->scene(), verdicts);
  });
}

/// What several places take together (standing_engine.h).
EMSCRIPTEN_KEEPALIVE const char* engine_together(const char* json) {
  return text_of([&] { return engine->together(json); });
}

/// Where each feature comes nearest to being reached (planner/reach/nearness.h): takes a list for
/// each place looked from, in it for each feature [touches reached, margin or null], as the sight
/// from there has them; gives for each feature the number of a place, null where there is none.
EMSCRIPTEN_KEEPALIVE const char* engine_nearest(const char* json) {
  return text_of([&] {
    std::vector<std::vector<standpoint::Nearness>> by_feature(engine->scene().features.size());
    for (const auto& place : nlohmann::json::parse(json)) {
      for (std::size_t f = 0; f < by_feature.size(); ++f) {
        const auto& margin = place.at(f).at(1);
        by_feature[f].push_back(
            {place.at(f).at(0).get<int>(),
             margin.is_null() ? std::nullopt : std::optional(margin.get<double>())});
      }
    }
    auto chosen = nlohmann::json::array();
    for (const auto& places : by_feature) {
      const auto nearest = standpoint::nearest_of(places);
      chosen.push_back(nearest ? nlohmann::json(*nearest) : nlohmann::json(nullptr));
    }
    return chosen.dump();
  });
}

/// The name of the body that the instrument's cylinder would cut, as JSON; "null" where it is free.
EMSCRIPTEN_KEEPALIVE const char* engine_can_stand(double x, double y, double z, double up_x,
                                                  double up_y, double up_z) {
  return text_of([&] {
    const auto body = engine->body_in_the_way({{x, y, z}, {up_x, up_y, up_z}});
    return body ? nlohmann::json(*body).dump() : std::string("null");
  });
}

/// {"hiddenBodies": [names], "targets": [names] or null for all}.
EMSCRIPTEN_KEEPALIVE const char* engine_use_at_hand(const char* json) {
  return failure_of([&] {
    const auto use = nlohmann::json::parse(json);
    std::optional<std::vector<std::string>> targets;
    if (!use.at("targets").is_null()) targets = use.at("targets");
    engine->use_at_hand(use.at("hiddenBodies").get<std::vector<std::string>>(), targets);
  });
}
}
