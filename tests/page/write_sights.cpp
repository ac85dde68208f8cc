// Writes what the program says of many places, for the page's engine to be held against:
//   write_sights DIR
// makes DIR/NAME.json (scene-data), .meshes (mesh-data), .places (JSON), .sights and .ties for each
// scene.
// A place is {"at", "use" (as EngineClient.atHand takes it), "stand"}; .sights holds for each place
// the very text of `sight --json`, each followed by a 0 byte; .ties what station_ties() says of
// each place with the three before it.
//
// The program's side shares neither objects between places nor what is hidden: each place is looked
// from anew, in a scene that lacks what is not at hand.

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>

#include <nlohmann/json.hpp>

#include "geometry/tree/tree.h"
#include "io/page/engine/station_ties.h"
#include "io/read/bodies/body_reader.h"
#include "io/write/json/sight_json.h"
#include "io/write/page/mesh_pack.h"
#include "io/write/page/page_scene.h"
#include "planner/reach/sight.h"
#include "source_dir.h"
#include "standpoint/cell.h"
#include "standpoint/read_scene.h"
#include "tests/planner/reach/reach_random_scene.h"

namespace standpoint {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;

struct Use {
  std::vector<std::string> hidden_bodies;
  std::optional<std::vector<std::string>> targets;
};

bool has(const std::vector<std::string>& names, const std::string& name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

/// The scene without what is not at hand.
test::MadeScene scene_with(const test::MadeScene& scene, const Use& use) {
  test::MadeScene left = scene;
  for (std::size_t b = left.bodies.size(); b-- > 0;) {
    if (!has(use.hidden_bodies, left.bodies[b].name)) continue;
    left.bodies.erase(left.bodies.begin() + static_cast<std::ptrdiff_t>(b));
    left.meshes.erase(left.meshes.begin() + static_cast<std::ptrdiff_t>(b));
  }
  left.nest_surfaces.clear();  // they name bodies by number, and sight asks none
  if (!use.targets) return left;
  std::vector<std::optional<TargetId>> new_id;
  std::size_t count = 0;
  for (const TargetId id : all_targets(scene)) {
    const bool stays = has(*use.targets, target_name(scene, id));
    new_id.push_back(stays ? std::optional(TargetId(count++)) : std::nullopt);
  }
  std::erase_if(left.full_targets, [&](const auto& t) { return !has(*use.targets, t.name); });
  std::erase_if(left.offset_styli, [&](const OffsetStylus& s) {
    return !std::visit([&](const auto& t) { return has(*use.targets, t.name); }, s);
  });
  for (Feature& feature : left.features) {
    std::vector<TargetId> kept;
    for (const TargetId id : feature.targets)
      if (new_id[id.index]) kept.push_back(*new_id[id.index]);
    if (!feature.targets.empty() && kept.empty()) {
      std::fprintf(stderr, "%s would be left without a target\n", feature.name.c_str());
      std::exit(2);
    }
    feature.targets = kept;
  }
  return left;
}

std::optional<std::string> body_cut(const test::MadeScene& scene, const Stance& stance) {
  const Instrument& i = scene.instrument;
  for (std::size_t b = 0; b < scene.bodies.size(); ++b) {
    if (Tree({scene.meshes[b].get()})
            .is_cut_by({stance.at, stance.up, i.body_radius, i.body_above, i.body_below}))
      return scene.bodies[b].name;
  }
  return std::nullopt;
}

/// One scene's files; places are added one by one.
class Case {
 public:
  Case(const fs::path& folder, const std::string& name, test::MadeScene scene)
      : file_(folder / name), scene_(std::move(scene)), left_(scene_), cell_(test::cell_of(left_)) {
    std::ofstream(file("json"), std::ios::binary) << page_scene(cell_);
    std::ofstream(file("meshes"), std::ios::binary) << pack_meshes(cell_);
    sights_.open(file("sights"), std::ios::binary);
    ties_.open(file("ties"), std::ios::binary);
  }
  ~Case() { std::ofstream(file("places")) << places_.dump(); }

  /// From here on only this is at hand.
  void use(const Use& use) {
    use_ = use;
    left_ = scene_with(scene_, use);
    cell_ = test::cell_of(left_);
  }
  void look(const Stance& stance) {
    const auto& [at, up] = std::tie(stance.at, stance.up);
    const auto stand = body_cut(left_, stance);
    json place;
    place["at"] = {at.x(), at.y(), at.z()};
    place["up"] = {up.x(), up.y(), up.z()};
    place["use"]["hiddenBodies"] = use_.hidden_bodies;
    place["use"]["targets"] = use_.targets ? json(*use_.targets) : json(nullptr);
    place["stand"] = stand ? json(*stand) : json(nullptr);
    places_.push_back(place);
    const Sight sight = look_from(cell_, stance);
    sights_ << sight_json(left_, sight) << '\0';
    auto& verdicts = nest_verdicts_.emplace_back();
    for (const NestMark& nest : sight.nests) verdicts.push_back(nest.mark.verdict);
    if (nest_verdicts_.size() > 4) nest_verdicts_.erase(nest_verdicts_.begin());
    ties_ << station_ties(scene_, nest_verdicts_) << '\0';
  }

 private:
  [[nodiscard]] fs::path file(const char* ending) const {
    return fs::path(file_).concat(std::string(".") + ending);
  }

  fs::path file_;
  test::MadeScene scene_, left_;
  Cell cell_;
  Use use_;
  json places_ = json::array();
  std::vector<std::vector<Verdict>> nest_verdicts_;  ///< of the last four places
  std::ofstream sights_, ties_;
};

/// Leaves away the first target without which every feature still has one.
std::vector<std::string> all_but_one_target(const test::MadeScene& scene) {
  const auto is_only_one = [&](TargetId id) {
    return std::any_of(scene.features.begin(), scene.features.end(),
                       [&](const Feature& feature) { return feature.targets == std::vector{id}; });
  };
  std::vector<std::string> names;
  bool is_one_left_away = false;
  for (const TargetId id : all_targets(scene)) {
    if (!is_one_left_away && !is_only_one(id)) {
      is_one_left_away = true;
    } else {
      names.push_back(target_name(scene, id));
    }
  }
  return names;
}

/// About the bodies that are not a floor or wall: where people would stand.
Vec3 place_about(test::Draw& draw, const test::MadeScene& scene) {
  Vec3 low = Vec3::Constant(1e300), high = -low;
  for (std::size_t b = 0; b < scene.bodies.size(); ++b) {
    if (scene.bodies[b].role == BodyRole::surroundings) continue;
    for (const Vec3& v : scene.meshes[b]->vertices) {
      low = low.cwiseMin(v);
      high = high.cwiseMax(v);
    }
  }
  const Vec3 room(2500, 2500, 0);
  return draw.in_box(low - room, high + room + Vec3(0, 0, 1500));
}

void write_file_scene(const fs::path& folder, const std::string& name, int places) {
  const auto read = read_scene(source_dir() / "scenes" / name / "scene.json");
  if (!read) std::exit(2);
  const test::MadeScene scene{read->scene, read->meshes};
  Case one(folder, name, scene);
  test::Draw draw(7);
  for (int i = 0; i < places; ++i) {
    if (i == 2 * places / 3) one.use({{scene.bodies.back().name}, std::nullopt});
    if (i == 5 * places / 6) {
      one.use({{scene.bodies.front().name}, all_but_one_target(scene)});
    }
    one.look(place_about(draw, scene));
  }
}

void write_random_scenes(const fs::path& folder) {
  for (std::uint64_t seed = 1; seed <= 24; ++seed) {
    test::Draw draw(seed);
    test::MadeScene scene = test::random_scene(draw);
    if (seed % 3 == 0) {
      scene.units = "m";
      scene.mm_per_unit = 1000;
    }
    Case one(folder, "random-" + std::to_string(seed), scene);
    // Every other instrument leans, hangs or lies.
    for (int i = 0; i < 8; ++i) {
      const Vec3 at = test::random_station(draw);
      one.look({at, i % 2 == 0 ? Vec3(Vec3::UnitZ()) : draw.direction()});
    }
  }
}

/// Links of a robot, metres, turned this way and that; points of their own surfaces as features.
void write_robot(const fs::path& folder, const fs::path& data) {
  test::Draw draw(11);
  test::MadeScene scene = test::bare_scene("robot");
  scene.full_targets.push_back(test::ball_target());
  scene.offset_styli.emplace_back(test::mirror_stylus());
  scene.offset_styli.emplace_back(test::two_ball_stylus());
  for (int link = 1; link <= 6; ++link) {
    BodyRequest request;
    request.file = data / "robot" / ("link_" + std::to_string(link) + ".stl");
    request.mm_per_unit = 1000;
    const Eigen::AngleAxisd turn(draw.between(0, 3), draw.direction());
    request.world_from_body.linear() = turn.toRotationMatrix();
    request.world_from_body.translation() = draw.in_box({0, 0, 0}, {1500, 1500, 1500});
    auto body = read_body(request);
    if (!body) std::exit(2);
    const BodyId id = test::add_body(scene, "link " + std::to_string(link), std::move(body->mesh));
    scene.bodies.back().placement = body->placement;
    const Mesh& mesh = *scene.meshes[id.index];
    for (int i = 0; i < 4; ++i) {
      const auto [a, b, c] = mesh.corners(draw.below(mesh.triangles.size()));
      const Vec3 normal = (b - a).cross(c - a);
      if (!(normal.norm() > 0)) continue;
      test::add_feature(scene, "point " + std::to_string(4 * link + i),
                        PointFeature{(a + b + c) / 3, normal.normalized()});
    }
  }
  Case one(folder, "robot", scene);
  for (int i = 0; i < 60; ++i) one.look(place_about(draw, scene));
}

int write_all(const fs::path& folder) {
  fs::remove_all(folder);
  fs::create_directories(folder);
  write_file_scene(folder, "demo", 15);
  write_file_scene(folder, "dowel", 60);
  write_file_scene(folder, "wire", 60);
  write_random_scenes(folder);
  const char* elsewhere = std::getenv("STANDPOINT_SHARED_DATA");
  const fs::path data =
      elsewhere != nullptr ? fs::path(elsewhere) : source_dir() / "../shared/data";
  if (fs::exists(data / "robot")) {
    write_robot(folder, data);
  } else {
    std::printf("robot: skipped, the open data is not there\n");
  }
  return 0;
}

}  // namespace
}  // namespace standpoint

int main(int argc, char** argv) {
  if (argc != 2) return 2;
  return standpoint::write_all(argv[1]);
}
