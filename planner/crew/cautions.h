#pragma once

#include <optional>
#include <vector>

#include "standpoint/plan.h"
#include "standpoint/scene.h"

namespace standpoint {

// What a finished plan asks people to take care of, as far as the scene can tell. io/ puts it into
// words and adds what is true of every job (laser light, stands, machinery).

/// Between these heights above a walkway's floor a beam may meet the eyes of people who pass, mm
/// (chosen here to hold the eyes of people of most statures). Wider: more beams are listed.
/// Narrower: some are missed.
inline constexpr Interval kEyeHeight{1200, 2000};

/// Working above this height over the floor is told as work at height, mm (chosen here;
/// local rules may begin lower).
inline constexpr double kWorkAtHeight = 2000;

/// The part of a beam that runs through the eye-height band over a walkway.
struct BeamOverWalkway {
  StationId station;
  std::optional<FeatureId> feature;  ///< what the beam measures: a feature ...
  std::optional<NestId> nest;        ///< ... or a nest
  std::uint32_t walkway = 0;         ///< index into Scene::walkways
  Vec3 from = Vec3::Zero(),
       to = Vec3::Zero();  ///< first and last point inside, mm; equal where it only grazes
};

struct StationAtHeight {
  StationId station;
  double height = 0;  ///< of the measuring centre above its floor, mm
};

/// Touches of one feature that lie high above the floor.
struct FeatureAtHeight {
  FeatureId feature;
  std::size_t touches = 0;  ///< how many
  double height = 0;        ///< of the highest, mm
};

struct NestAtHeight {
  NestId nest;
  double height = 0;  ///< mm
};

struct Cautions {
  double floor = 0;  ///< z of the floor that heights of features and nests are counted from, mm
  std::vector<BeamOverWalkway> beams;     ///< by station, then feature, then nest, then walkway
  std::vector<StationAtHeight> stations;  ///< in the plan's order
  std::vector<FeatureAtHeight> features;  ///< in the scene's order
  std::vector<NestAtHeight> nests;        ///< in the scene's order
  std::vector<FeatureId> by_hand_held;    ///< measured with an offset stylus
  std::vector<StationId> not_upright{};   ///< where the instrument leans, hangs or lies; in order
};

/// The stretch of the segment a-b that lies in or on the upright prism over `walkway`'s polygon
/// between its floor + kEyeHeight.low and + kEyeHeight.high; nothing where they do not meet.
///
/// Whether they meet is decided with exact predicates on the segment cut to the band (the cut's
/// ends are rounded to double); touching the border counts. Over a polygon that is not convex the
/// stretch runs from the first to the last point inside. The ends themselves are for people:
/// rounded. Precondition: a simple polygon of at least three corners. O(corners), allocates.
[[nodiscard]] std::optional<std::pair<Vec3, Vec3>> stretch_at_eye_height(const Walkway& walkway,
                                                                         const Vec3& a,
                                                                         const Vec3& b);

/// The cautions of a plan. A station's floor is its zone's; a fixed place's, and that of features
/// and nests, the lowest zone's, or z = 0 where the scene has no zone. Pure; O(beams x corners).
[[nodiscard]] Cautions find_cautions(const Scene& scene, const Plan& plan);

/// Those of one of its stations alone: its beams, its stand, and what is measured from it.
[[nodiscard]] Cautions find_cautions_at(const Scene& scene, const Plan& plan, StationId station);

}  // namespace standpoint
