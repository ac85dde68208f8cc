#include "planner/why/obstruction.h"

#include <algorithm>
#include <map>

#include "geometry/mesh.h"
#include "geometry/tree/tree.h"
#include "planner/model/tolerances.h"

namespace standpoint {
namespace {

/// From the axis toward the contact; zero where the body is on the axis.
Vec3 side_of(const RoundCone& solid, const Nearest& nearest) {
  const Vec3 along = solid.end - solid.start;
  const double length = along.norm();
  const Vec3 on_axis =
      length > 0 ? Vec3(solid.start + along * (nearest.along / length)) : solid.start;
  const Vec3 off = nearest.at - on_axis;
  return off.norm() > tolerance::kOnAxis ? Vec3(off.normalized()) : Vec3(Vec3::Zero());
}

}  // namespace

std::vector<Obstruction> obstructions(const Cell& cell, const RoundCone& solid, double margin) {
  const double below = margin + tolerance::kBlockerLook;
  std::map<BodyId, Obstruction> by_body;
  cell.tree().for_each_within(solid, below, [&](const Contact& contact) {
    const auto corners = cell.tree().corners(contact.body, contact.triangle);
    const double entry = first_entry(solid, corners, contact.nearest, below);
    const auto [place, is_new] = by_body.try_emplace(contact.body);
    Obstruction& found = place->second;
    found.distance = is_new ? entry : std::min(found.distance, entry);
    if (is_new || contact.nearest.margin < found.margin) {
      found.body = contact.body;
      found.triangle = contact.triangle;
      found.face = face_name(cell.mesh(contact.body), contact.triangle);
      found.margin = contact.nearest.margin;
      found.at = contact.nearest.at;
      found.side = side_of(solid, contact.nearest);
    }
  });
  // The axis meets a body where a beam without width is not clear of it.
  const RoundCone axis = RoundCone::capsule(solid.start, solid.end, 0);
  cell.tree().for_each_within(axis, tolerance::kOnAxis, [&](const Contact& contact) {
    if (const auto found = by_body.find(contact.body); found != by_body.end()) {
      found->second.stops = true;
    }
  });
  std::vector<Obstruction> all;
  all.reserve(by_body.size());
  for (const auto& [body, obstruction] : by_body) all.push_back(obstruction);
  std::stable_sort(all.begin(), all.end(), [](const Obstruction& a, const Obstruction& b) {
    return a.distance < b.distance;
  });
  return all;
}

}  // namespace standpoint
