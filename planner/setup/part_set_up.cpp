#include "planner/setup/part_set_up.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "geometry/vec.h"
#include "planner/network/chi_square.h"
#include "planner/setup/row_tests.h"
#include "planner/setup/unit_slip.h"
#include "planner/stations/some_off_line.h"
#include "planner/stations/ties.h"

namespace standpoint {
namespace {

constexpr double kSoundPart = 0.95;
constexpr double kGrossPart = 1 - 1e-6;
constexpr double kRowLevel = 0.01;
/// As many names as `resect` exchanges.
constexpr std::size_t kMostNames = 100;

SetUpFaultKind fault_of(RowFault fault) {
  switch (fault) {
    case RowFault::no_way:
      return SetUpFaultKind::no_way;
    case RowFault::no_touch:
      return SetUpFaultKind::no_touch;
    case RowFault::needs_touch:
      break;
  }
  return SetUpFaultKind::needs_touch;
}

/// The rows as they are held; faults where some cannot be.
std::vector<HeldRow> held_rows(const Scene& scene, const std::vector<SeenRow>& seen,
                               std::vector<SetUpFault>& faults) {
  std::vector<HeldRow> rows;
  for (std::size_t i = 0; i < seen.size(); ++i) {
    if (seen[i].at.isZero(0)) {
      faults.push_back({SetUpFaultKind::at_instrument, {i}});
      continue;
    }
    RowResult result = held_row(scene, seen[i]);
    if (result.row) {
      rows.push_back(std::move(*result.row));
      continue;
    }
    SetUpFault fault{fault_of(result.fault), {i}};
    fault.touches = result.touches;
    faults.push_back(std::move(fault));
  }
  return rows;
}

std::optional<double> slip_of_units(const std::vector<HeldRow>& rows) {
  std::vector<Vec3> read, anchor;
  for (const HeldRow& row : rows) {
    if (!row.is_anchored) continue;
    read.push_back(row.read);
    anchor.push_back(row.anchor);
  }
  if (read.size() < 3 || some_off_line(anchor, 3) != SomeOffLine::yes) return std::nullopt;
  return unit_slip(read, anchor);
}

double bound_for(int freedoms, double level) {
  return freedoms > 0 ? chi_square_quantile(freedoms, level) : 0;
}

bool fits_within(std::vector<HeldRow> rows, double level) {
  const PartFit fit = fit_from_closed_form(as_told(std::move(rows)));
  return fit.chi_square <= bound_for(fit.observations - 6, level);
}

bool fits_mirrored(std::vector<HeldRow> rows) {
  const Mat3 mirror = Vec3(-1, 1, 1).asDiagonal();
  for (HeldRow& row : rows) {
    row.read = mirror * row.read;
    row.covariance = mirror * row.covariance * mirror;
  }
  return fits_within(std::move(rows), kSoundPart);
}

/// What a row is called: a nest or a feature.
std::pair<bool, std::uint32_t> name_of(const SeenRow& row) {
  return row.nest ? std::pair(true, row.nest->index) : std::pair(false, row.feature.index);
}

/// Whether chance mixes these two up: two nests, or two features of one shape.
bool are_alike(const Scene& scene, const SeenRow& a, const SeenRow& b) {
  if (a.nest || b.nest) return a.nest && b.nest;
  return scene.features[a.feature.index].shape.index() ==
         scene.features[b.feature.index].shape.index();
}

void give_name(const SeenRow& of, SeenRow& row) {
  row.nest = of.nest;
  row.feature = of.feature;
}

/// The only two names whose exchange makes all fit; told are the rows of both.
std::optional<std::vector<std::size_t>> swapped_names(const Scene& scene,
                                                      const std::vector<SeenRow>& seen) {
  std::vector<SeenRow> names;
  for (const SeenRow& row : seen)
    if (std::none_of(names.begin(), names.end(),
                     [&](const SeenRow& name) { return name_of(name) == name_of(row); }))
      names.push_back(row);
  std::optional<std::vector<std::size_t>> found;
  if (names.size() > kMostNames) return found;
  for (std::size_t a = 0; a < names.size(); ++a) {
    for (std::size_t b = a + 1; b < names.size(); ++b) {
      if (!are_alike(scene, names[a], names[b])) continue;
      std::vector<SeenRow> exchanged = seen;
      std::vector<std::size_t> touched;
      for (std::size_t i = 0; i < seen.size(); ++i) {
        const bool is_a = name_of(seen[i]) == name_of(names[a]);
        if (!is_a && name_of(seen[i]) != name_of(names[b])) continue;
        give_name(is_a ? names[b] : names[a], exchanged[i]);
        touched.push_back(i);
      }
      std::vector<SetUpFault> faults;
      std::vector<HeldRow> rows = held_rows(scene, exchanged, faults);
      if (!faults.empty() || !fits_within(std::move(rows), kSoundPart)) continue;
      if (found) return std::nullopt;
      found = std::move(touched);
    }
  }
  return found;
}

/// What explains a misfit that chance gives once in a million.
std::optional<SetUpFault> gross_fault(const Scene& scene, const std::vector<SeenRow>& seen,
                                      const PartFitInput& input, const PartFit& fit) {
  const int spare = fit.observations - 6;
  if (spare <= 0 || fit.chi_square <= bound_for(spare, kGrossPart)) return std::nullopt;
  if (fits_mirrored(input.rows)) return SetUpFault{SetUpFaultKind::mirrored, {}};
  if (auto rows = swapped_names(scene, seen))
    return SetUpFault{SetUpFaultKind::swapped_names, std::move(*rows)};
  return std::nullopt;
}

RealStation station_at(const Scene& scene, const PartFit& fit, std::size_t rows) {
  RealStation station;
  station.world_from_instrument = fit.world_from_instrument;
  station.measuring_centre = fit.world_from_instrument.translation();
  station.tilt_rad = angle_between(fit.world_from_instrument.linear().col(2), Vec3::UnitZ());
  if (!states_error(scene.instrument)) return station;
  station.pose_covariance = fit.covariance;
  station.degrees_of_freedom = fit.observations - 6;
  station.is_tested = station.degrees_of_freedom > 0;
  if (!station.is_tested) return station;
  station.chi_square = fit.chi_square;
  station.chi_bound = bound_for(station.degrees_of_freedom, kSoundPart);
  station.fits = fit.chi_square <= station.chi_bound;
  station.drop_bound = chi_square_quantile(1, 1 - kRowLevel / static_cast<double>(rows));
  return station;
}

std::vector<PartRow> rows_left(const PartFitInput& input, const PartFit& fit, bool is_tested) {
  const std::vector<RowTest> tests = row_tests(input, fit);
  std::vector<PartRow> rows;
  for (std::size_t i = 0; i < fit.rows.size(); ++i) {
    const WeightedRow& row = fit.rows[i];
    PartRow told;
    told.off = row.misfit.held.transpose() * row.misfit.off;
    told.length = row.misfit.count == 1 ? row.misfit.off.x() : told.off.norm();
    if (is_tested) {
      told.normalised = row.left.norm();
      told.freedoms = tests[i].freedoms;
      told.drop = tests[i].drop;
    }
    rows.push_back(told);
  }
  return rows;
}

}  // namespace

PartSetUpResult stand_by_part(const Scene& scene, const std::vector<SeenRow>& seen) {
  PartSetUpResult result;
  std::vector<HeldRow> rows = held_rows(scene, seen, result.faults);
  if (rows.empty() && result.faults.empty()) result.faults.push_back({SetUpFaultKind::too_few, {}});
  if (!result.faults.empty()) return result;
  if (const auto scale = slip_of_units(rows)) {
    result.faults.push_back({SetUpFaultKind::wrong_units, {}, *scale});
    return result;
  }
  const PartFitInput input = as_told(std::move(rows));
  const PartFit fit = fit_to_part(input);
  if (std::vector<Motion> free = free_motions(held_by(input, fit)); !free.empty()) {
    SetUpFault fault{SetUpFaultKind::motion_free, {}};
    fault.free = std::move(free);
    result.faults.push_back(std::move(fault));
    return result;
  }
  RealStation station = station_at(scene, fit, seen.size());
  if (station.is_tested) {
    if (auto fault = gross_fault(scene, seen, input, fit)) {
      result.faults.push_back(std::move(*fault));
      return result;
    }
  }
  result.part.seen = seen;
  result.part.is_tested = station.is_tested;
  result.part.rows = rows_left(input, fit, station.is_tested);
  if (station.is_tested) {
    PartFindings found = find_wrong_rows(scene, seen, input, fit);
    result.part.runs_tried = found.runs_tried;
    if (!found.findings.empty()) {
      result.part.corrected = found.fit.world_from_instrument;
      result.part.corrected_chi_square = found.fit.chi_square;
      result.part.corrected_freedoms = found.fit.observations - 6;
      result.part.corrected_bound = bound_for(result.part.corrected_freedoms, kSoundPart);
    }
    result.part.findings = std::move(found.findings);
  }
  result.set_up = std::move(station);
  return result;
}

}  // namespace standpoint
