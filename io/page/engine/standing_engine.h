#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "planner/reach/feature_reach.h"
#include "planner/reach/nest_reach.h"
#include "standpoint/cell.h"
#include "standpoint/scene.h"
#include "standpoint/sight.h"

namespace standpoint {

/// One scene asked from place after place, as dragging a station in the page does. What does not
/// depend on the place is kept between calls; answers do not depend on what was asked before. One
/// thread.
class StandingEngine {
 public:
  /// `room`: the meshes to be filled in, one for each body.
  StandingEngine(Scene scene, std::vector<Mesh> room);

  [[nodiscard]] const Scene& scene() const { return scene_; }
  /// To be filled in before build(). Precondition: body < scene().bodies.size().
  [[nodiscard]] Mesh& mesh(std::size_t body) { return *meshes_[body]; }
  /// Builds the tree. O(n log n) in triangles. What follows needs it.
  void build();

  /// As look_from() tells it, with the bodies and targets at hand, of an instrument that stands so.
  [[nodiscard]] Sight sight(const Stance& stance);
  /// {"features": [{"verdict", "target", "margin"}], "nests": [the same]} in the scene's order and
  /// units: what sight() says of each as a whole. Of what is blocked the margin is null. A blocked
  /// feature that several stations may take together has "parts" where some of its touches are
  /// reached: for `together`, which alone knows what they mean.
  [[nodiscard]] std::string marks(const Stance& stance);
  /// What several places take together: for each feature, in the scene's order, null, or
  /// {"verdict", "target", "margin", "touches": [for each touch the number of the place that takes
  /// it, or null]}. `json`: a list for each place, in it for each feature its "parts" as marks()
  /// told them, or null; a feature that a place takes alone has true in their place, and nobody
  /// shares it. Throws where it is no such text.
  [[nodiscard]] std::string together(const std::string& json) const;
  /// The body that the instrument would cut, standing so; the first in the scene's order.
  [[nodiscard]] std::optional<std::string> body_in_the_way(const Stance& stance) const;

  /// Leaves bodies away, and allows only some targets (nothing: all of them). Unknown names are
  /// ignored. O(n log n) in triangles where the bodies differ from before.
  void use_at_hand(const std::vector<std::string>& hidden_bodies,
                   const std::optional<std::vector<std::string>>& targets);

 private:
  void prepare();

  Scene scene_;
  std::vector<std::shared_ptr<Mesh>> meshes_;  ///< by body
  std::vector<bool> is_hidden_;
  std::vector<TargetId> at_hand_;
  std::unique_ptr<Cell> cell_;
  std::vector<FeatureReach> features_;
  std::vector<NestReach> nests_;
};

}  // namespace standpoint
