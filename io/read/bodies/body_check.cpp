#include "io/read/bodies/body_check.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace standpoint {
namespace {

using Kind = BodyRemark::Kind;

constexpr double kOddRatio = 300;
constexpr double kSameExtent = 1.0 / 500;
/// Smaller ones than an inch in millimetres (a centimetre, a decimetre) are too common to tell.
constexpr std::array kUnitRatios = {25.4, 1000 / 25.4, 304.8, 1000.0};
/// mm, cm, inch, foot, metre.
constexpr std::array kUnits = {1.0, 10.0, 25.4, 304.8, 1000.0};

double size_of(const BodyReport& report) {
  return (report.high - report.low).norm();
}

/// The geometric median: halves and doubles weigh alike. Nothing where no other body has a size.
std::optional<double> usual_size_but(const std::vector<BodyReport>& reports, std::size_t left_out) {
  std::vector<double> logs;
  logs.reserve(reports.size());
  for (std::size_t i = 0; i < reports.size(); ++i) {
    if (const double size = size_of(reports[i]); i != left_out && size > 0) {
      logs.push_back(std::log(size));
    }
  }
  if (logs.empty()) {
    return std::nullopt;
  }
  std::sort(logs.begin(), logs.end());
  const std::size_t half = logs.size() / 2;
  return std::exp(logs.size() % 2 == 1 ? logs[half] : (logs[half - 1] + logs[half]) / 2);
}

bool is_odd(double ratio) {
  return ratio > kOddRatio || ratio < 1 / kOddRatio;
}

/// Of the usual units the one that brings the body nearest to the usual size, if that is near.
std::optional<double> fitting_unit(double mm_per_unit, double ratio) {
  const auto oddness = [&](double unit) { return std::abs(std::log(ratio * unit / mm_per_unit)); };
  const double best = *std::min_element(
      kUnits.begin(), kUnits.end(), [&](double a, double b) { return oddness(a) < oddness(b); });
  // A factor of 30 either way: the middle, in proportion, between fitting and odd is some 17.
  return oddness(best) < std::log(30.0) ? std::optional(best) : std::nullopt;
}

void look_at_size(const std::vector<BodyReport>& reports, std::size_t i,
                  std::vector<BodyRemark>& found) {
  const std::optional<double> usual = usual_size_but(reports, i);
  const double size = size_of(reports[i]);
  if (!usual || !(size > 0) || !is_odd(size / *usual)) {
    return;
  }
  BodyRemark remark;
  remark.body = BodyId(i);
  remark.ratio = size / *usual;
  remark.kind = remark.ratio > 1 ? Kind::too_large : Kind::too_small;
  remark.fitting_mm_per_unit = fitting_unit(reports[i].mm_per_unit, remark.ratio);
  found.push_back(remark);
}

Vec3 sorted_extents(const BodyReport& report) {
  Vec3 extents = report.high - report.low;
  std::sort(extents.begin(), extents.end());
  return extents;
}

/// Tells the larger of a pair: which of them is wrong cannot be known.
void look_for_twin(const std::vector<BodyReport>& reports, std::size_t i,
                   std::vector<BodyRemark>& found) {
  const Vec3 mine = sorted_extents(reports[i]);
  for (std::size_t j = 0; j < reports.size(); ++j) {
    const Vec3 others = sorted_extents(reports[j]);
    for (const double ratio : kUnitRatios) {
      if (others.minCoeff() > 0 &&
          ((mine - ratio * others).cwiseAbs().array() <= kSameExtent * mine.array()).all()) {
        BodyRemark remark;
        remark.body = BodyId(i);
        remark.kind = Kind::same_in_other_unit;
        remark.ratio = ratio;
        remark.other = BodyId(j);
        found.push_back(remark);
        return;
      }
    }
  }
}

void look_at_file(const BodyReport& report, std::size_t i, std::vector<BodyRemark>& found) {
  const auto tell = [&](Kind kind, double ratio, std::size_t count) {
    BodyRemark remark;
    remark.body = BodyId(i);
    remark.kind = kind;
    remark.ratio = ratio;
    remark.count = count;
    found.push_back(remark);
  };
  // Units read from a file may be floats; units proper differ by far more.
  if (report.stated_mm_per_unit &&
      std::abs(report.mm_per_unit / *report.stated_mm_per_unit - 1) > 1e-5) {
    tell(Kind::unit_contradicts, report.mm_per_unit / *report.stated_mm_per_unit, 0);
  }
  if (report.up_axis == 'X' || report.up_axis == 'Y') {
    tell(Kind::up_axis_differs, 1, 0);
  }
  if (!report.lost_faces.empty()) {
    tell(Kind::lost_faces, 1, report.lost_faces.size());
  }
  if (report.fanned_polygons > 0) {
    tell(Kind::fanned_polygons, 1, report.fanned_polygons);
  }
  if (const MeshDefects& d = report.defects; d.any()) {
    tell(Kind::defects, 1,
         d.open_edges + d.crowded_edges + d.duplicate_triangles + d.degenerate_triangles +
             d.non_finite_vertices);
  }
}

}  // namespace

std::vector<BodyRemark> remarks(const std::vector<BodyReport>& reports) {
  std::vector<BodyRemark> found;
  for (std::size_t i = 0; i < reports.size(); ++i) {
    look_at_size(reports, i, found);
    look_for_twin(reports, i, found);
    look_at_file(reports[i], i, found);
  }
  return found;
}

}  // namespace standpoint
