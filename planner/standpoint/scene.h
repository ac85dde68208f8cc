#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "standpoint/shapes.h"

namespace standpoint {

using FeatureId = Id<struct FeatureTag>;
using NestId = Id<struct NestTag>;
/// A place the instrument could stand: an index into the list of candidates.
using CandidateId = Id<struct CandidateTag>;
/// A station of a finished plan, in the plan's order.
using StationId = Id<struct StationTag>;
/// A target: full targets first, in the scene's order, then offset styli.
using TargetId = Id<struct TargetTag>;

// The scene: everything that is known before planning, validated whole by whoever builds it.
// Lengths are mm, angles rad, frame: the scene's, right-handed, +Z up. Unit vectors are unit.

enum class BodyRole { part, fixture, surroundings };

/// What is known of a body beside its surface, which stands in `Meshes`.
struct Body {
  std::string name;
  BodyRole role = BodyRole::part;
  /// How its mesh was placed, where it came from a file: only what is sent to the page asks for it.
  Placement placement{};
};

/// The surfaces of a scene's bodies, one for each and in their order, placed in the scene's frame.
/// Shared by all variants of a scene and never changed.
using Meshes = std::vector<std::shared_ptr<const Mesh>>;

/// One observation at L mm has standard uncertainty (fixed + per_mm L) / coverage_factor.
struct ErrorTerm {
  double fixed = 0;   ///< mm
  double per_mm = 0;  ///< mm per mm
};

struct InstrumentError {
  double coverage_factor = 2;
  ErrorTerm transverse;  ///< in each of the two directions across the beam
  ErrorTerm radial;      ///< along the beam
};

struct Instrument {
  std::string name;
  double beam_diameter = 0;    ///< at the measuring centre
  double beam_growth_rad = 0;  ///< growth of the diameter, mm per mm
  Interval range;              ///< allowed distance measuring centre to optical centre
  Interval elevation_rad;
  double body_radius = 0;  ///< of the upright cylinder the instrument and its stand take up
  double body_above = 0;   ///< from the measuring centre up to the cylinder's top
  double body_below = 0;   ///< from the measuring centre down to its bottom
  InstrumentError error;
};

/// A ball with a corner cube whose optical centre is the ball's centre.
struct FullTarget {
  std::string name;
  double radius = 0;
  double acceptance_rad = 0;  ///< how far the reflector's axis may be off the beam
  double aperture_rad = 0;    ///< half-angle of the reflector's opening: no contact inside it
};

/// What every hand-held stylus has: a tip ball, a shank behind it.
struct Shank {
  double tip_radius = 0;  ///< 0 for a point
  double radius = 0;
  double taper = 20;  ///< length over which a shank thicker than its tip reaches its full radius
};

/// A flat mirror at `length` from the tip shows a virtual reflector in the tip's centre.
struct MirrorStylus {
  std::string name;
  Shank shank;
  double length = 0;       ///< tip centre to mirror
  double head_radius = 0;  ///< of the ball about the mirror that holds the optics
  double swing_rad = 0;    ///< largest angle between shank and beam
  double error = 0;        ///< its own standard uncertainty in each axis
};

/// Two reflectors on a rod in line with the tip; the tip is extrapolated.
struct TwoBallStylus {
  std::string name;
  Shank shank;
  std::array<double, 2> ball_distances{};  ///< from the tip's centre, ascending
  double ball_radius = 0;
  double acceptance_rad = 0;  ///< how far from square to the rod the beam may come
  double error = 0;
};

using OffsetStylus = std::variant<MirrorStylus, TwoBallStylus>;

struct PointFeature {
  Vec3 at;
  Vec3 normal;  ///< out of the material
};
struct PlaneFeature {
  std::vector<Vec3> points;
  Vec3 normal;
};
struct HoleFeature {
  Vec3 centre;  ///< in the rim's plane
  Vec3 axis;    ///< out of the hole
  double radius = 0;
  double depth = 0;
};
struct CylinderFeature {
  Vec3 centre;  ///< half-way along
  Vec3 axis;
  double radius = 0;
  double length = 0;
  bool inside = false;  ///< a bore, measured from within
};
struct SphereFeature {
  Vec3 centre;
  Vec3 toward;  ///< middle of the part of the sphere that is measured
  double radius = 0;
};
using Shape = std::variant<PointFeature, PlaneFeature, HoleFeature, CylinderFeature, SphereFeature>;

struct Feature {
  std::string name;
  Shape shape;
  std::optional<double> tolerance;  ///< full width of its zone
  bool required = true;
  std::vector<TargetId> targets;      ///< the only ones that may be used; empty means any
  std::optional<int> touch_count;     ///< how many touches to take; default by shape
  std::optional<int> enough_touches;  ///< how many of them are enough; default: see element.h
};

/// A fixed seat for full targets.
struct Nest {
  std::string name;
  Vec3 at;              ///< centre of the seated full target
  Vec3 normal;          ///< out of the seat
  double seat_rad = 0;  ///< half-angle of the contact ring about -normal
};

/// A place where a nest could be put.
using NestSite = Nest;

/// Asks for nest sites on the upward or outward faces of a body inside an upright prism.
struct NestSurface {
  BodyId body;
  std::vector<Vec2> polygon;
  double spacing = 0;
};

struct FixedStation {
  std::string name;
  Vec3 at;
  bool keep = false;  ///< part of every plan
};

/// Floor on which the instrument may stand anywhere.
struct Zone {
  std::string name;
  double floor = 0;
  std::vector<Vec2> polygon;    ///< simple, either orientation
  std::vector<double> heights;  ///< of the measuring centre above the floor
  double spacing = 0;
};

/// Floor on which people walk: beams that cross it at eye height are told.
struct Walkway {
  std::string name;
  double floor = 0;
  std::vector<Vec2> polygon;
};

/// What the environment does to the measurement. All of it is optional: the defaults change no
/// figure. Every `..._error` is a standard uncertainty.
struct Environment {
  double part_temperature = 20;       ///< mean temperature of the part, deg C
  double part_temperature_error = 0;  ///< K
  double expansion = 0;               ///< linear expansion of the part, 1/K
  double expansion_error = 0;         ///< 1/K
  double air_temperature = 20;        ///< mean along the beams, deg C, -40..100
  double air_temperature_error = 0;   ///< K
  double air_pressure = 101325;       ///< Pa, > 0
  double air_pressure_error = 0;      ///< Pa
  double humidity = 0.5;              ///< relative, 0..1
  double humidity_error = 0;          ///< relative, 0..1
  double wavelength_um = 0.633;       ///< of the laser in vacuum, 0.3..1.7
  double gradient_error = 0;          ///< of the air's temperature, along each axis, K per mm
  double nest_repeatability = 0;      ///< of a ball put back into its nest, each axis, mm
};

struct Rules {
  double min_margin = 0;
  double tight_margin = 5;
  double fit_tolerance = 0.2;
  int stations_per_feature = 1;
  int shared_nests = 3;
  bool ties_by_stylus = false;  ///< a nest reached by stylus counts as shared
  Interval rim_contact_rad;     ///< contact half-angles at which a ball centres itself on a rim
  std::optional<double> max_expanded;  ///< bound on every feature's expanded uncertainty
};

struct Scene {
  std::string name;
  std::string units;       ///< as in the file: "mm", "m", ...
  double mm_per_unit = 1;  ///< only io/ needs it
  double chord_tolerance = 0.1;
  std::vector<Body> bodies;
  Instrument instrument;
  std::vector<FullTarget> full_targets;
  std::vector<OffsetStylus> offset_styli;
  std::vector<Feature> features;
  std::vector<Nest> nests;
  std::vector<NestSite> nest_sites;
  std::vector<NestSurface> nest_surfaces;
  std::vector<FixedStation> fixed_stations;
  std::vector<Zone> zones;
  std::vector<Walkway> walkways;
  Rules rules;
  Environment environment;
  std::vector<std::string> datum;  ///< names of nests or features; empty: all observed nests
};

/// Whether the scene says how well the instrument measures. Where it does not, all terms are zero
/// and no uncertainty is predicted.
[[nodiscard]] inline bool states_error(const Instrument& instrument) {
  const auto is_given = [](const ErrorTerm& term) { return term.fixed > 0 || term.per_mm > 0; };
  return is_given(instrument.error.transverse) || is_given(instrument.error.radial);
}

[[nodiscard]] inline std::size_t target_count(const Scene& scene) {
  return scene.full_targets.size() + scene.offset_styli.size();
}
/// Every target, ascending.
[[nodiscard]] inline std::vector<TargetId> all_targets(const Scene& scene) {
  std::vector<TargetId> all;
  for (std::size_t i = 0; i < target_count(scene); ++i) all.emplace_back(i);
  return all;
}
[[nodiscard]] inline bool is_full_target(const Scene& scene, TargetId target) {
  return target.index < scene.full_targets.size();
}
/// Precondition: is_full_target(scene, target).
[[nodiscard]] inline const FullTarget& full_target(const Scene& scene, TargetId target) {
  return scene.full_targets[target.index];
}
/// Precondition: !is_full_target(scene, target).
[[nodiscard]] inline const OffsetStylus& offset_stylus(const Scene& scene, TargetId target) {
  return scene.offset_styli[target.index - scene.full_targets.size()];
}
/// The radius of the ball that touches: a full target's own, or a stylus's tip's. mm.
[[nodiscard]] inline double touching_radius(const Scene& scene, TargetId target) {
  if (is_full_target(scene, target)) return full_target(scene, target).radius;
  return std::visit([](const auto& stylus) { return stylus.shank.tip_radius; },
                    offset_stylus(scene, target));
}
[[nodiscard]] inline const std::string& target_name(const Scene& scene, TargetId target) {
  if (is_full_target(scene, target)) return full_target(scene, target).name;
  return std::visit([](const auto& stylus) -> const std::string& { return stylus.name; },
                    offset_stylus(scene, target));
}

}  // namespace standpoint
