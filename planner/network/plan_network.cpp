#include "planner/network/plan_network.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "planner/network/alignment.h"
#include "planner/network/budget.h"

namespace standpoint {
namespace {

void add_nests(const Scene& scene, const PlannedStation& station, std::uint32_t index,
               NetworkInput& input) {
  for (const NestMark& nest : station.sight.nests) {
    if (nest.mark.verdict == Verdict::blocked || !nest.mark.best) continue;
    const Reading reading = reading_of(scene, *nest.mark.best, scene.nests[nest.nest.index].at);
    const Mat3 own = reading_covariance(scene.instrument.error, station.at, reading);
    input.observations.push_back(
        {index, nest.nest.index, with_repeatability(own, scene.environment)});
  }
}

bool contains(const std::vector<FeatureId>& features, FeatureId feature) {
  return std::find(features.begin(), features.end(), feature) != features.end();
}

void add_touches(const Scene& scene, const Plan& plan, const PlannedFeature& planned,
                 PlanNetwork& network) {
  if (!planned.target) return;
  const FeatureMark* mark = mark_of(plan, planned);
  if (mark == nullptr) return;
  const Feature& feature = scene.features[planned.feature.index];
  const bool is_aligned_to = scene.alignment && contains(plan.alignment.features, planned.feature);
  const bool in_datum = !scene.alignment && std::find(scene.datum.begin(), scene.datum.end(),
                                                      feature.name) != scene.datum.end();
  for (std::uint32_t i = 0; i < mark->by_target.size(); ++i) {
    if (!mark->by_target[i]) continue;
    const StationId station = *station_of(planned, i);
    const Vec3& centre = mark->by_target[i]->optical_centre;
    WatchedTouch watched;
    watched.feature = planned.feature;
    watched.station = station.index;
    watched.reading = reading_of(scene, *mark->by_target[i], centre);
    watched.own = reading_covariance(scene.instrument.error, plan.stations[station.index].at,
                                     watched.reading);
    if (in_datum) {
      watched.datum_touch = static_cast<std::uint32_t>(network.input.datum_touches.size());
      network.input.datum_touches.push_back({watched.station, centre, watched.own});
    }
    if (is_aligned_to)
      network.input.alignment.push_back(
          {watched.station, centre, held_directions(feature, mark->way, mark->touches[i].normal),
           watched.own});
    network.touches.push_back(watched);
    network.touch_index.push_back(i);
  }
}

PlanUncertainty own_figures(const std::vector<WatchedTouch>& touches) {
  PlanUncertainty uncertainty;
  uncertainty.figures = Figures::own;
  for (const WatchedTouch& touch : touches)
    uncertainty.touches.push_back(point_uncertainty(touch.own));
  return uncertainty;
}

Mat3 network_covariance(const NetworkInput& input, const Network& network,
                        const WatchedTouch& touch) {
  if (touch.datum_touch) return network.datum_touch_covariance[*touch.datum_touch];
  return touch_covariance(network.pose_covariance[touch.station], input.stations[touch.station],
                          touch.reading, touch.own);
}

void add_environment(const NetworkInput& input, const std::vector<WatchedTouch>& touches,
                     const EnvironmentEffects& effects, std::vector<PointUncertainty>& figures) {
  for (std::size_t i = 0; i < figures.size(); ++i) {
    const WatchedTouch& touch = touches[i];
    const Vec3& station = input.stations[touch.station];
    figures[i] =
        point_uncertainty(figures[i].covariance +
                          environment_covariance(effects, touch.station, station, touch.reading));
  }
}

}  // namespace

Vec3 middle_of(const std::vector<WatchedTouch>& touches) {
  Vec3 sum = Vec3::Zero();
  for (const WatchedTouch& touch : touches) sum += touch.reading.place;
  return touches.empty() ? sum : Vec3(sum / static_cast<double>(touches.size()));
}

PlanNetwork plan_network(const Scene& scene, const Plan& plan) {
  PlanNetwork network;
  for (const Nest& nest : scene.nests) network.input.nests.push_back(nest.at);
  for (std::uint32_t i = 0; i < plan.stations.size(); ++i) {
    network.input.stations.push_back(plan.stations[i].at);
    add_nests(scene, plan.stations[i], i, network.input);
  }
  if (scene.alignment) network.input.form = scene.alignment->form;
  for (const std::string& name : scene.alignment ? std::vector<std::string>() : scene.datum)
    for (std::uint32_t nest = 0; nest < scene.nests.size(); ++nest)
      if (scene.nests[nest].name == name) network.input.datum_nests.push_back(nest);
  for (const PlannedFeature& planned : plan.features) add_touches(scene, plan, planned, network);
  return network;
}

PlanUncertainty predict_uncertainty(const Scene& scene, const PlanNetwork& network) {
  return predict_uncertainty(scene, network.input, network.touches);
}

PlanUncertainty predict_uncertainty(const Scene& scene, const NetworkInput& input,
                                    const std::vector<WatchedTouch>& touches) {
  const bool still = is_still(scene.environment);
  PlanUncertainty uncertainty;
  if (scene.alignment && input.alignment.empty()) {  // nothing of it is taken
    uncertainty.figures = Figures::unaligned;
    uncertainty.free = free_motions({});
    return uncertainty;
  }
  const bool no_datum = input.datum_nests.empty() && input.datum_touches.empty();
  if (!scene.alignment && !scene.datum.empty() && no_datum) {
    uncertainty.figures = Figures::no_datum;
    return uncertainty;
  }
  if (input.nests.empty() && input.datum_touches.empty() && input.alignment.empty()) {
    uncertainty.figures = Figures::untied;
    if (input.stations.size() > 1) return uncertainty;
    uncertainty = own_figures(touches);
    if (!still)
      add_environment(input, touches,
                      environment_effects_alone(scene.environment, middle_of(touches)),
                      uncertainty.touches);
    return uncertainty;
  }
  AdjustmentResult result = adjust(input);
  if (!result.adjustment) {
    uncertainty.figures = result.free.empty() ? Figures::deficient : Figures::unaligned;
    uncertainty.deficient = std::move(result.deficient);
    uncertainty.free = std::move(result.free);
    return uncertainty;
  }
  uncertainty.network = result.adjustment->covariances();
  for (const WatchedTouch& touch : touches)
    uncertainty.touches.push_back(
        point_uncertainty(network_covariance(input, *uncertainty.network, touch)));
  if (!still)
    add_environment(input, touches, environment_effects(*result.adjustment, scene.environment),
                    uncertainty.touches);
  return uncertainty;
}

void write_uncertainty(const PlanNetwork& network, const PlanUncertainty& uncertainty, Plan& plan) {
  for (std::size_t i = 0; i < plan.stations.size(); ++i) {
    plan.stations[i].pose_covariance.reset();
    if (uncertainty.network)
      plan.stations[i].pose_covariance = uncertainty.network->pose_covariance[i];
  }
  std::vector<PlannedFeature*> by_id;  // scenes may have thousands of features and touches
  for (PlannedFeature& planned : plan.features) {
    planned.touch_uncertainty.clear();
    planned.uncertainty.reset();
    if (uncertainty.touches.empty()) continue;
    const FeatureMark* mark = mark_of(plan, planned);
    if (mark == nullptr) continue;
    planned.touch_uncertainty.resize(mark->touches.size());
    by_id.resize(std::max<std::size_t>(by_id.size(), planned.feature.index + 1), nullptr);
    by_id[planned.feature.index] = &planned;
  }
  for (std::size_t i = 0; i < uncertainty.touches.size(); ++i) {
    PlannedFeature& planned = *by_id[network.touches[i].feature.index];
    const PointUncertainty& figure = uncertainty.touches[i];
    planned.touch_uncertainty[network.touch_index[i]] = figure;
    if (!planned.uncertainty || figure.expanded > planned.uncertainty->expanded)
      planned.uncertainty = figure;
  }
}

}  // namespace standpoint
