#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "standpoint/cell.h"
#include "standpoint/scene.h"
#include "standpoint/shapes.h"

/// \file
/// What is decided about features and nests as seen from one place, with the reasons. Lengths are
/// mm, places in the scene's frame.

namespace standpoint {

/// How something is reached, the better first.
enum class Verdict : std::uint8_t {
  full_target,    ///< by a full target
  offset_stylus,  ///< by no full target, but by a stylus
  blocked         ///< by no target
};

/// How the touches of a feature are taken.
enum class Way {
  surface,  ///< the ball rests on the surface
  rim,      ///< a ball larger than the hole seats itself on its rim
  wall,     ///< a ball smaller than the hole touches its wall
  adapter,  ///< a hole adapter's pin sits in the hole and carries a ball above it
};
/// Whether one touch takes the hole as a whole: on its rim, or by an adapter in it.
[[nodiscard]] inline bool takes_whole_hole(Way way) {
  return way == Way::rim || way == Way::adapter;
}

/// The rule that fails.
enum class Rule {
  out_of_range,  ///< the target would be too near to the instrument or too far from it
  elevation,     ///< the beam would be too steep
  no_fit,        ///< the target does not fit where it would touch
  acceptance,    ///< the reflector cannot be turned far enough toward the instrument
  beam,          ///< a body stands in the beam
  shank,         ///< a body stands in a stylus's shank
  head           ///< a body stands in a stylus's mirror head or in one of its balls
};

/// Why one target does not reach one touch.
struct Cause {
  TargetId target;                     ///< the one that does not
  Rule rule = Rule::beam;              ///< the first that fails
  std::optional<BodyId> body;          ///< what stands in the way, where a body does
  std::optional<TriangleId> triangle;  ///< where on it
  std::optional<std::string> face;     ///< what its file calls the face there, where it has faces
  std::optional<double> distance;      ///< mm from the instrument along the beam
  std::optional<double> margin;        ///< mm, of the beam, shank, head or fit that fails
  std::optional<Vec3> at;              ///< the point of contact
  /// The beam, shank, head or ball that a body is too near to: what to look along, or to move.
  std::optional<RoundCone> solid = std::nullopt;
  /// C of this target at the touch; where it fits in no way, where it would be on a plain surface.
  Vec3 optical_centre = Vec3::Zero();
};

/// How one target reaches one touch.
struct Reached {
  TargetId target;    ///< the one that does
  double margin = 0;  ///< of the beam, mm; infinite where nothing stands anywhere
  /// For a stylus: the unit vector from tip to mirror or outer ball.
  std::optional<Vec3> shank_direction;
  /// Where the instrument's beam ends on the target (two of them for a two-ball stylus).
  std::vector<Vec3> beam_ends;
  /// C: the full target's optical centre, or the centre of a stylus's tip (on a hole's rim it is no
  /// radius away from the touch). Whoever needs it takes it from here. World, mm.
  Vec3 optical_centre = Vec3::Zero();
};

/// A touch of a feature, or a nest, as seen from one place.
struct TouchMark {
  Vec3 at = Vec3::Zero();       ///< contact point (nest: the seated ball's centre)
  Vec3 normal = Vec3::UnitZ();  ///< out of the material
  /// Of `best`; of a blocked touch of the target that the mark shows. mm.
  Vec3 optical_centre = Vec3::Zero();
  Verdict verdict = Verdict::blocked;  ///< by the best target
  std::optional<Reached> best;         ///< empty when blocked
  /// Of `best`; of a blocked touch the largest of a beam that was tried, else nothing. mm.
  std::optional<double> margin;
  std::vector<Cause> causes;  ///< one for each target tried; empty when reached
};

/// How one target sees a feature that it does not reach enough of.
struct PartMark {
  TargetId target;                 ///< which one
  std::vector<TouchMark> touches;  ///< of the feature, each by this target alone
};

/// A feature as seen from one place.
struct FeatureMark {
  FeatureId feature;                   ///< which one
  Verdict verdict = Verdict::blocked;  ///< by the best target that takes enough of its touches
  std::optional<TargetId> target;      ///< that target; empty where blocked
  /// Further targets that take it just as well: the same verdict, margins that do not differ.
  /// Ascending.
  std::vector<TargetId> alike;
  /// The smallest among the touches that `target` reaches; of a blocked feature the largest of its
  /// blocked touches, which is nearest to passing; nothing where no beam was tried. mm.
  std::optional<double> margin;
  Way way = Way::surface;  ///< the way `target` takes, or the nearest to reaching
  /// The touches of that way, marked each on its own.
  std::vector<TouchMark> touches;
  /// For each of `touches`, how `target` reaches it; empty where it does not.
  std::vector<std::optional<Reached>> by_target;
  /// Of a blocked feature that several stations may take together: every target that reaches some
  /// of its touches from here, in order.
  std::vector<PartMark> parts;
};

/// What is decided as a whole, without touches and causes.
struct MarkSummary {
  Verdict verdict = Verdict::blocked;  ///< by the best target
  std::optional<TargetId> target;      ///< that target; empty where blocked
  std::optional<double> margin;  ///< nothing where blocked; infinite where nothing stands anywhere
};

/// A nest as seen from one place.
struct NestMark {
  NestId nest;     ///< which one
  TouchMark mark;  ///< of the ball that sits in it
};

/// Everything as seen from one place.
struct Sight {
  Vec3 at;                            ///< the measuring centre, mm
  std::vector<FeatureMark> features;  ///< one for each of the scene, in its order
  std::vector<NestMark> nests;        ///< one for each of the scene, in its order
  Vec3 up = Vec3::UnitZ();            ///< the instrument's standing axis
};

/// Judges every feature and nest as seen from an instrument that stands so (mm, scene frame,
/// finite; a place alone: upright there), with causes (contract section 3). Every full target is
/// tried on every touch; styli where no full target is enough and on the single touches that none
/// reaches. One thread; safe to call from many at once. O(targets x touches) queries of the tree,
/// more where a two-ball stylus is searched.
[[nodiscard]] Sight look_from(const Cell& cell, const Stance& stance);

}  // namespace standpoint
