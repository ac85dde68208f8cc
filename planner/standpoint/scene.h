#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "standpoint/shapes.h"

/// \file
/// The scene: everything that is known before planning, as plain values. Lengths are mm, angles
/// rad, frame: the scene's, right-handed, +Z up. Vectors that are called a normal, an axis or a
/// direction are unit vectors.
///
/// Whoever builds a scene validates it whole before it goes into a Cell: read_scene does; a program
/// that makes its own keeps what docs/scene.md asks of the file. Plain values: a scene may be read
/// from many threads at once.

namespace standpoint {

/// A feature: an index into Scene::features.
using FeatureId = Id<struct FeatureTag>;
/// A nest: an index into Scene::nests.
using NestId = Id<struct NestTag>;
/// A place the instrument could stand: an index into the list of candidates.
using CandidateId = Id<struct CandidateTag>;
/// A station of a finished plan, in the plan's order.
using StationId = Id<struct StationTag>;
/// A target: full targets first, in the scene's order, then hole adapters, then offset styli.
using TargetId = Id<struct TargetTag>;

/// What a body is there for.
enum class BodyRole {
  part,         ///< what is measured
  fixture,      ///< what could be moved or taken away
  surroundings  ///< what stays where it is
};

/// What is known of a body beside its surface, which stands in `Meshes`.
struct Body {
  std::string name;                ///< no other body has it
  BodyRole role = BodyRole::part;  ///< what it is there for
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

/// How well the instrument measures (contract section 6). All zero: not known.
struct InstrumentError {
  double coverage_factor = 2;  ///< of both terms, > 0
  ErrorTerm transverse;        ///< in each of the two directions across the beam
  ErrorTerm radial;            ///< along the beam
};

/// How an instrument stands: its measuring centre, and the direction of its standing axis. A place
/// alone is an upright instrument there.
struct Stance {
  Vec3 at = Vec3::Zero();   ///< of the measuring centre, mm
  Vec3 up = Vec3::UnitZ();  ///< unit, along the standing axis, from the foot to the head

  Stance() = default;
  /// Upright. Any expression that gives a place, mm.
  template <class Place>
  Stance(const Eigen::MatrixBase<Place>& place) : at(place) {}  // NOLINT: a place is a stance
  /// Upright, by coordinates, mm.
  Stance(double x, double y, double z) : at(x, y, z) {}
  /// Precondition: `standing_axis` is a unit vector.
  Stance(const Vec3& place, const Vec3& standing_axis) : at(place), up(standing_axis) {}

  /// The same stance a little further on, mm.
  [[nodiscard]] Stance shifted(const Vec3& by) const { return {Vec3(at + by), up}; }
};
/// Whether both stand in exactly the same place in the same way.
[[nodiscard]] inline bool operator==(const Stance& a, const Stance& b) {
  return a.at == b.at && a.up == b.up;
}
/// Whether a standing axis is exactly the scene's vertical, head up.
[[nodiscard]] inline bool is_upright(const Vec3& up) {
  return up == Vec3::UnitZ();
}

/// The laser tracker, as far as planning needs it. Lengths are mm.
struct Instrument {
  std::string name;            ///< for people
  double beam_diameter = 0;    ///< at the measuring centre, > 0
  double beam_growth_rad = 0;  ///< growth of the diameter, mm per mm
  Interval range;              ///< allowed distance measuring centre to optical centre
  Interval elevation_rad;  ///< allowed angle of the beam above the plane across its standing axis
  double body_radius = 0;  ///< of the cylinder about `up` that instrument and stand take up
  double body_above = 0;   ///< from the measuring centre along `up` to the cylinder's top
  double body_below = 0;   ///< from the measuring centre against `up` to its bottom
  InstrumentError error;   ///< how well it measures
};

/// A ball with a corner cube whose optical centre is the ball's centre.
struct FullTarget {
  std::string name;           ///< no other target has it
  double radius = 0;          ///< of the ball, mm, > 0
  double acceptance_rad = 0;  ///< how far the reflector's axis may be off the beam
  double aperture_rad = 0;    ///< half-angle of the reflector's opening: no contact inside it
};

/// A pin in a hole that carries a full target on the hole's axis.
struct HoleAdapter {
  std::string name;        ///< no other target has it
  Interval hole_diameter;  ///< of the holes that it fits, mm
  TargetId ball;           ///< the full target that it carries
  double height = 0;       ///< of the ball's centre above the rim's plane, mm, > 0
  double base_radius = 0;  ///< of its base, a cylinder from the rim's plane up to the ball, mm
  double seat_rad = 0;     ///< half-angle of the ball's contact ring about the hole's -axis
};

/// What every hand-held stylus has: a tip ball, a shank behind it.
struct Shank {
  double tip_radius = 0;  ///< 0 for a point
  double radius = 0;      ///< of the shank where it is thickest, mm
  double taper =
      20;  ///< length over which a shank thicker than its tip reaches its full radius, mm
};

/// A flat mirror at `length` from the tip shows a virtual reflector in the tip's centre.
struct MirrorStylus {
  std::string name;        ///< no other target has it
  Shank shank;             ///< from the tip to the mirror
  double length = 0;       ///< tip centre to mirror, mm
  double head_radius = 0;  ///< of the ball about the mirror that holds the optics, mm
  double swing_rad = 0;    ///< largest angle between shank and beam
  double error = 0;        ///< its own standard uncertainty in each axis, mm
};

/// Two reflectors on a rod in line with the tip; the tip is extrapolated.
struct TwoBallStylus {
  std::string name;                        ///< no other target has it
  Shank shank;                             ///< from the tip to the outer ball
  std::array<double, 2> ball_distances{};  ///< from the tip's centre, ascending, mm
  double ball_radius = 0;                  ///< of the two balls that hold the reflectors, mm
  double acceptance_rad = 0;               ///< how far from square to the rod the beam may come
  double error = 0;                        ///< its own standard uncertainty in each axis, mm
};

/// A hand-held target whose optical centre is not where it touches.
using OffsetStylus = std::variant<MirrorStylus, TwoBallStylus>;

/// One point on a surface.
struct PointFeature {
  Vec3 at;      ///< mm
  Vec3 normal;  ///< out of the material
  /// A place that can be told in all three directions, not only along its normal: what an alignment
  /// takes from it.
  bool holds_all = false;
};
/// A flat face.
struct PlaneFeature {
  std::vector<Vec3> points;  ///< where it is touched, mm; not all in one line
  Vec3 normal;               ///< out of the material
};
/// A round hole that is measured where it opens.
struct HoleFeature {
  Vec3 centre;        ///< in the rim's plane, mm
  Vec3 axis;          ///< out of the hole
  double radius = 0;  ///< mm
  double depth = 0;   ///< from the rim down, mm
};
/// A cylinder, from without or within.
struct CylinderFeature {
  Vec3 centre;          ///< half-way along, mm
  Vec3 axis;            ///< either way along it
  double radius = 0;    ///< mm
  double length = 0;    ///< along the axis, mm
  bool inside = false;  ///< a bore, measured from within
};
/// A sphere, from without.
struct SphereFeature {
  Vec3 centre;        ///< mm
  Vec3 toward;        ///< unit, from the centre to the middle of what is measured
  double radius = 0;  ///< mm
};
/// A straight line on a surface, touched from one side.
struct LineFeature {
  Vec3 from;    ///< where it begins, mm
  Vec3 to;      ///< where it ends, mm; not where it begins
  Vec3 normal;  ///< out of the material, square to the line
};
/// A cone, or a piece of one between two circles, from without or within.
struct ConeFeature {
  Vec3 centre;                ///< on its axis half-way along, mm
  Vec3 axis;                  ///< toward where it narrows
  double radius = 0;          ///< half-way along, mm
  double half_angle_rad = 0;  ///< between its axis and its wall, 0 < angle < pi/2
  double length = 0;          ///< along the axis, mm; it ends at its tip or before
  bool inside = false;        ///< measured from within
};
/// A slot with straight walls and round ends, measured where it opens.
struct SlotFeature {
  Vec3 centre;        ///< its middle, in the rim's plane, mm
  Vec3 axis;          ///< out of the slot
  Vec3 along;         ///< direction of its length, square to the axis
  double width = 0;   ///< between its straight walls, mm
  double length = 0;  ///< over both round ends, mm, > width
  double depth = 0;   ///< from the rim down, mm
};
/// Any surface of a body, touched at places that are spaced over it.
struct SurfaceFeature {
  BodyId body;                        ///< whose surface it is
  double spacing = 0;                 ///< between its touches, mm, > 0
  double share = 0.9;                 ///< of its touches that is enough, above 0, at most 1
  std::vector<PointFeature> touches;  ///< the places, at least one; read_scene raises them
};
/// What a feature looks like.
using Shape = std::variant<PointFeature, PlaneFeature, HoleFeature, CylinderFeature, SphereFeature,
                           LineFeature, ConeFeature, SlotFeature, SurfaceFeature>;

/// Something that is to be measured.
struct Feature {
  std::string name;                     ///< no other feature has it
  Shape shape;                          ///< what it looks like and where it is
  std::optional<double> tolerance{};    ///< full width of its zone, mm
  bool required = true;                 ///< a plan without it is not complete
  std::vector<TargetId> targets{};      ///< the only ones that may be used; empty means any
  std::optional<int> touch_count{};     ///< how many touches to take; default by shape
  std::optional<int> enough_touches{};  ///< how many of them are enough; default: docs/touches.md
  bool split = true;      ///< several stations may take it together, where its shape allows it
  bool is_datum = false;  ///< the drawing's datums refer to it
};

/// A fixed seat for full targets.
struct Nest {
  std::string name;     ///< no other nest or nest site has it
  Vec3 at;              ///< centre of the seated full target, mm
  Vec3 normal;          ///< out of the seat
  double seat_rad = 0;  ///< half-angle of the contact ring about -normal
};

/// A place where a nest could be put.
using NestSite = Nest;

/// Asks for nest sites on the upward or outward faces of a body inside an upright prism.
struct NestSurface {
  BodyId body;                ///< on whose faces
  std::vector<Vec2> polygon;  ///< of the prism, mm; simple, either orientation
  double spacing = 0;         ///< between sites, mm, > 0
};

/// A single place where the instrument could stand.
struct FixedStation {
  std::string name;   ///< no other fixed place has it
  Vec3 at;            ///< of the measuring centre, mm
  bool keep = false;  ///< part of every plan
  double cost = 1;    ///< what standing there costs, in the measure of the second aim
  /// The standing axes that are tried there: unit, at least one, and one where `keep`.
  std::vector<Vec3> instrument_ups{Vec3::UnitZ()};
};

/// Floor on which the instrument may stand anywhere.
struct Zone {
  std::string name;             ///< no other zone has it
  double floor = 0;             ///< z of the floor, mm
  std::vector<Vec2> polygon;    ///< its border, mm; simple, either orientation
  std::vector<double> heights;  ///< of the measuring centre above the floor, mm
  double spacing = 0;           ///< of the grid of places that are tried, mm, > 0
  double cost = 1;              ///< what standing there costs, in the measure of the second aim
  /// Borders of what it leaves out, mm; each simple, either orientation. No place stands over one
  /// or on its border.
  std::vector<std::vector<Vec2>> holes{};
  /// The standing axes that are tried at each place: unit, at least one.
  std::vector<Vec3> instrument_ups{Vec3::UnitZ()};
};

/// Floor over which no instrument may stand, at any height.
struct KeepOut {
  std::string name;           ///< no other has it
  std::vector<Vec2> polygon;  ///< its border, mm, itself kept out; simple, either orientation
};

/// Floor on which people walk: beams that cross it at eye height are told.
struct Walkway {
  std::string name;           ///< for people
  double floor = 0;           ///< z of the floor, mm
  std::vector<Vec2> polygon;  ///< its border, mm; simple, either orientation
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

/// What a plan must keep (contract sections 2 to 4).
struct Rules {
  double min_margin = 0;         ///< a beam with less margin than this is blocked, mm
  double tight_margin = 5;       ///< a beam with less margin than this is warned of, mm
  double fit_tolerance = 0.2;    ///< how deep a target may stand in a body where it touches, mm
  int stations_per_feature = 1;  ///< from how many stations each feature is to be measured
  int shared_nests = 3;          ///< how many nests two stations must share to be tied
  bool ties_by_stylus = false;   ///< a nest reached by stylus counts as shared
  bool split_features = true;    ///< several stations may take a feature together
  Interval rim_contact_rad;      ///< contact half-angles at which a ball centres itself on a rim
  std::optional<double> max_expanded;  ///< bound on every feature's expanded uncertainty, mm
};

/// What the part's own frame is laid on: planned touches of some features (contract section 13).
struct Alignment {
  std::vector<FeatureId> features;  ///< in the order they were given; empty where `choose` is
  double form = 0;  ///< standard uncertainty of the part's form along each direction held, mm
  /// At most so many features are to be chosen by the program, > 0.
  std::optional<int> choose;
  std::vector<FeatureId> from;  ///< that `choose` may take; empty: those marked as datum, else all
};

/// Everything that is known before planning, but for the surfaces of the bodies.
struct Scene {
  std::string name;        ///< for people
  std::string units;       ///< as in the file: "mm", "m", ...
  double mm_per_unit = 1;  ///< only io/ needs it
  /// How far the triangles of a CAD body may be from its true surface, mm.
  double chord_tolerance = 0.1;
  std::vector<Body> bodies;                  ///< indexed by BodyId
  Instrument instrument;                     ///< the one that is used
  std::vector<FullTarget> full_targets;      ///< the first targets of TargetId
  std::vector<HoleAdapter> hole_adapters;    ///< the next targets of TargetId
  std::vector<OffsetStylus> offset_styli;    ///< the further targets of TargetId
  std::vector<Feature> features;             ///< indexed by FeatureId
  std::vector<Nest> nests;                   ///< that are there; indexed by NestId
  std::vector<NestSite> nest_sites;          ///< where nests could be put
  std::vector<NestSurface> nest_surfaces;    ///< where sites are generated
  std::vector<FixedStation> fixed_stations;  ///< single places for stations
  std::vector<Zone> zones;                   ///< floors for stations
  std::vector<KeepOut> keep_outs;            ///< floors for no station
  std::vector<Walkway> walkways;             ///< floors for people
  Rules rules;                               ///< what a plan must keep
  Environment environment;                   ///< temperature and air
  std::vector<std::string> datum;  ///< names of nests or features; empty: all observed nests
  /// In place of `datum`: the frame of the part itself.
  std::optional<Alignment> alignment;
};

/// Whether the scene says how well the instrument measures. Where it does not, all terms are zero
/// and no uncertainty is predicted. O(1).
[[nodiscard]] inline bool states_error(const Instrument& instrument) {
  const auto is_given = [](const ErrorTerm& term) { return term.fixed > 0 || term.per_mm > 0; };
  return is_given(instrument.error.transverse) || is_given(instrument.error.radial);
}

/// How many targets there are, full targets, hole adapters and styli together. O(1).
[[nodiscard]] inline std::size_t target_count(const Scene& scene) {
  return scene.full_targets.size() + scene.hole_adapters.size() + scene.offset_styli.size();
}
/// Every target, ascending.
[[nodiscard]] inline std::vector<TargetId> all_targets(const Scene& scene) {
  std::vector<TargetId> all;
  all.reserve(target_count(scene));
  for (std::size_t i = 0; i < target_count(scene); ++i) all.emplace_back(i);
  return all;
}
/// Whether the target is a full one, no stylus: a hole adapter is, by the ball that it carries.
/// O(1).
[[nodiscard]] inline bool is_full_target(const Scene& scene, TargetId target) {
  return target.index < scene.full_targets.size() + scene.hole_adapters.size();
}
/// The hole adapter with this id; null for any other target. O(1).
[[nodiscard]] inline const HoleAdapter* hole_adapter(const Scene& scene, TargetId target) {
  const std::size_t balls = scene.full_targets.size();
  if (target.index < balls || !is_full_target(scene, target)) return nullptr;
  return &scene.hole_adapters[target.index - balls];
}
/// The full target with this id, or that a hole adapter with this id carries. Precondition:
/// is_full_target(scene, target).
[[nodiscard]] inline const FullTarget& full_target(const Scene& scene, TargetId target) {
  const HoleAdapter* adapter = hole_adapter(scene, target);
  return scene.full_targets[(adapter != nullptr ? adapter->ball : target).index];
}
/// The stylus with this id. Precondition: !is_full_target(scene, target).
[[nodiscard]] inline const OffsetStylus& offset_stylus(const Scene& scene, TargetId target) {
  return scene.offset_styli[target.index - scene.full_targets.size() - scene.hole_adapters.size()];
}
/// The radius of the ball that touches, a full target's own or a stylus's tip's; of a hole adapter
/// that of the ball that it carries. mm. Precondition: a target of the scene. O(1).
[[nodiscard]] inline double touching_radius(const Scene& scene, TargetId target) {
  if (is_full_target(scene, target)) return full_target(scene, target).radius;
  return std::visit([](const auto& stylus) { return stylus.shank.tip_radius; },
                    offset_stylus(scene, target));
}
/// What the target is called. Precondition: a target of the scene. O(1).
[[nodiscard]] inline const std::string& target_name(const Scene& scene, TargetId target) {
  if (const HoleAdapter* adapter = hole_adapter(scene, target)) return adapter->name;
  if (is_full_target(scene, target)) return full_target(scene, target).name;
  return std::visit([](const auto& stylus) -> const std::string& { return stylus.name; },
                    offset_stylus(scene, target));
}

}  // namespace standpoint
