#include "tests/io/read/mesh_agreement.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "tests/io/read/plane_cover.h"

namespace standpoint::test {
namespace {

std::optional<AgreedKind> kind_of(const FoundFeature& f) {
  switch (f.kind) {
    case FoundKind::hole:
      return AgreedKind::hole;
    case FoundKind::slot:
      return AgreedKind::slot;
    case FoundKind::cylinder:
      return f.hollow ? AgreedKind::bore : AgreedKind::boss;
    case FoundKind::cone:
      return AgreedKind::cone;
    case FoundKind::sphere:
      return AgreedKind::sphere;
    case FoundKind::plane:
      return AgreedKind::plane;
    case FoundKind::point:
    case FoundKind::line:
      break;
  }
  return std::nullopt;
}

bool is_doubtful(const FoundFeature& f) {
  return f.fit && f.fit->doubtful;
}

/// Where a wall begins and ends on its axis.
std::pair<Vec3, Vec3> ends_of(const FoundFeature& f) {
  if (f.kind == FoundKind::hole) return {f.centre, f.centre - f.depth * f.axis};
  return {f.centre + f.length / 2 * f.axis, f.centre - f.length / 2 * f.axis};
}

double diameter_at(const FoundFeature& f, const Vec3& on_axis) {
  if (f.kind != FoundKind::cone) return f.diameter;
  // A cone's axis points to where it narrows.
  return f.diameter - 2 * std::tan(f.angle_rad / 2) * f.axis.dot(on_axis - f.centre);
}

/// Whether a wall of `part` is tangent to what is beyond its end at this point of its axis.
bool is_blended(const PartFaces& part, const FoundFeature& wall, const Vec3& end) {
  for (const Face& face : part.faces) {
    if (!std::binary_search(wall.faces.begin(), wall.faces.end(), face.number)) continue;
    for (const Loop& loop : face.loops)
      for (const Edge& edge : loop) {
        if (edge.bend != EdgeBend::smooth) continue;
        for (const Vec3& p : edge.points)
          if (std::abs(wall.axis.dot(p - end)) < 0.1) return true;
      }
  }
  return false;
}

bool walls_agree(const PartFaces& part, const FoundFeature& cad, const FoundFeature& mesh,
                 const AgreeOptions& options) {
  if (cad.hollow != mesh.hollow || cad.through != mesh.through) return false;
  const auto [first, last] = ends_of(cad);
  const auto [mesh_first, mesh_last] = ends_of(mesh);
  const bool turned = cad.axis.dot(mesh.axis) < 0;
  // A hole's axis tells its opening. One that is open both ways has two, and without its steps,
  // which a coarse mesh may have lost, neither is told by them.
  if (turned && cad.kind != FoundKind::cylinder && !cad.through) return false;
  const Vec3& near = turned ? mesh_last : mesh_first;
  const Vec3& far = turned ? mesh_first : mesh_last;
  for (const Vec3& p : {first, last}) {
    if (mesh.axis.cross(p - mesh.centre).norm() > options.within) return false;
    if (std::abs(diameter_at(mesh, p) - diameter_at(cad, p)) > 2 * options.within) return false;
  }
  const auto is_end = [&](const Vec3& here, const Vec3& there) {
    const double off = std::abs(cad.axis.dot(there - here));
    return off <= options.axial_within ||
           (off <= options.blend_within && is_blended(part, cad, here));
  };
  return is_end(first, near) && is_end(last, far);
}

bool slots_agree(const FoundFeature& cad, const FoundFeature& mesh, const AgreeOptions& options) {
  const Vec3 off = mesh.centre - cad.centre;
  return cad.axis.dot(mesh.axis) > 0.999 && std::abs(cad.along.dot(mesh.along)) > 0.999 &&
         cad.axis.cross(off).norm() <= 2 * options.within &&
         std::abs(cad.axis.dot(off)) <= options.axial_within && cad.through == mesh.through &&
         std::abs(cad.depth - mesh.depth) <= 2 * options.axial_within &&
         std::abs(cad.width - mesh.width) <= 2 * options.within &&
         std::abs(cad.length - mesh.length) <= 4 * options.within;
}

bool agree(const PartFaces& part, const FoundFeature& cad, const FoundFeature& mesh,
           const AgreeOptions& options) {
  if (kind_of(cad) != kind_of(mesh)) return false;
  switch (cad.kind) {
    case FoundKind::slot:
      return slots_agree(cad, mesh, options);
    case FoundKind::sphere:
      return cad.hollow == mesh.hollow && (cad.centre - mesh.centre).norm() <= 2 * options.within &&
             std::abs(cad.diameter - mesh.diameter) <= 4 * options.within;
    default:
      return walls_agree(part, cad, mesh, options);
  }
}

std::string told(const char* how, const FoundFeature& f) {
  const auto kind = kind_of(f);
  std::string words =
      fmt::format("{} {} {} at ({:.3f}, {:.3f}, {:.3f}) along ({:.4f}, {:.4f}, {:.4f})", how,
                  kind ? word_of(*kind) : "point", f.name, f.centre.x(), f.centre.y(), f.centre.z(),
                  f.axis.x(), f.axis.y(), f.axis.z());
  if (f.kind == FoundKind::slot)
    words += fmt::format(", {:.3f} by {:.3f}, {:.3f} deep{}", f.width, f.length, f.depth,
                         f.through ? ", through" : "");
  else if (f.kind != FoundKind::plane)
    words += fmt::format(", diameter {:.3f}, {:.3f} deep, {:.3f} long{}", f.diameter, f.depth,
                         f.length, f.through ? ", through" : "");
  if (f.kind == FoundKind::cone) words += fmt::format(", {:.4f} rad", f.angle_rad);
  words += fmt::format(", {:.1f} mm2", f.area);
  if (f.steps.size() > 1)
    for (const HoleStep& step : f.steps)
      words += fmt::format(" [{:.3f} x {:.3f}]", step.diameter, step.depth);
  if (f.fit)
    words += fmt::format(", rms {:.4f}, {} triangles{}", f.fit->rms, f.fit->triangles,
                         f.fit->doubtful ? ", doubtful" : "");
  return words;
}

class Comparison {
 public:
  Comparison(const Looked& cad, const Looked& mesh, const AgreeOptions& options)
      : cad_(cad), mesh_(mesh), options_(options) {}

  Agreement run() {
    compare_walls();
    compare_planes();
    return std::move(result_);
  }

 private:
  Tally& tally(AgreedKind kind) { return result_.of_kind[static_cast<std::size_t>(kind)]; }

  void only_on_mesh(const FoundFeature& f) {
    Tally& t = tally(*kind_of(f));
    (is_doubtful(f) ? t.guessed : t.wrong) += 1;
    result_.words.push_back(told("only on the mesh:", f));
  }

  void compare_walls() {
    std::vector<bool> used(mesh_.found.size(), false);
    for (const FoundFeature& f : cad_.found) {
      const auto kind = kind_of(f);
      if (!kind || *kind == AgreedKind::plane) continue;
      tally(*kind).in_cad += 1;
      std::optional<std::size_t> best;
      for (std::size_t i = 0; i < mesh_.found.size(); ++i) {
        if (used[i] || !agree(cad_.part, f, mesh_.found[i], options_)) continue;
        if (!best || (mesh_.found[i].centre - f.centre).norm() <
                         (mesh_.found[*best].centre - f.centre).norm())
          best = i;
      }
      if (!best) {
        tally(*kind).missed += 1;
        result_.words.push_back(told("missed:", f));
        continue;
      }
      used[*best] = true;
      (is_doubtful(mesh_.found[*best]) ? tally(*kind).doubtful : tally(*kind).agrees) += 1;
    }
    for (std::size_t i = 0; i < mesh_.found.size(); ++i) {
      const auto kind = kind_of(mesh_.found[i]);
      if (kind && *kind != AgreedKind::plane && !used[i]) only_on_mesh(mesh_.found[i]);
    }
  }

  void compare_planes() {
    double all = 0;
    for (const Face& face : cad_.part.faces) all += face.area;
    const double least = options_.plane_share * all;
    const PlaneCover by_cad(cad_.part, options_.plane_within, options_.rim);
    const PlaneCover by_mesh(mesh_.part, options_.plane_within, options_.rim);
    for (const FoundFeature& f : cad_.found) {
      if (f.kind != FoundKind::plane || f.area < least) continue;
      tally(AgreedKind::plane).in_cad += 1;
      const PlaneCover::Share share = by_mesh.share_of(cad_.part, f);
      if (share.covered < options_.cover_share) {
        tally(AgreedKind::plane).missed += 1;
        result_.words.push_back(
            told(fmt::format("missed ({:.0f} % covered):", 100 * share.covered).c_str(), f));
      } else {
        (2 * share.doubtful > share.covered ? tally(AgreedKind::plane).doubtful
                                            : tally(AgreedKind::plane).agrees) += 1;
      }
    }
    for (const FoundFeature& f : mesh_.found) {
      if (f.kind != FoundKind::plane || f.area < least) continue;
      if (by_cad.share_of(mesh_.part, f).covered < options_.cover_share) only_on_mesh(f);
    }
  }

  const Looked& cad_;
  const Looked& mesh_;
  const AgreeOptions& options_;
  Agreement result_;
};

}  // namespace

const char* word_of(AgreedKind kind) {
  constexpr std::array<const char*, kAgreedKinds> kWords = {"hole", "slot",   "boss", "bore",
                                                            "cone", "sphere", "plane"};
  return kWords[static_cast<std::size_t>(kind)];
}

Agreement agreement_of(const Looked& cad, const Looked& mesh, const AgreeOptions& options) {
  return Comparison(cad, mesh, options).run();
}

}  // namespace standpoint::test
