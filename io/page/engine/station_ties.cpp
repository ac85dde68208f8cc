#include "io/page/engine/station_ties.h"

#include <algorithm>
#include <iterator>

#include <nlohmann/json.hpp>

#include "planner/stations/tie_rule.h"

namespace standpoint {
namespace {

struct SharedNests {
  std::size_t a, b;
  std::vector<std::size_t> nests;
};

std::vector<std::size_t> counting_nests(const Scene& scene, const std::vector<Verdict>& verdicts) {
  std::vector<std::size_t> nests;
  for (std::size_t n = 0; n < verdicts.size(); ++n) {
    if (counts_for_ties(scene, verdicts[n])) nests.push_back(n);
  }
  return nests;
}

bool is_enough(const Scene& scene, const std::vector<std::size_t>& nests) {
  std::vector<Vec3> places;
  places.reserve(nests.size());
  for (const std::size_t nest : nests) places.push_back(scene.nests[nest].at);
  return are_enough_to_link(scene, places);
}

/// The nests that every two stations share, whether they link them or not.
std::vector<SharedNests> shared_between(const Scene& scene,
                                        const std::vector<std::vector<Verdict>>& verdicts) {
  std::vector<std::vector<std::size_t>> counting;
  counting.reserve(verdicts.size());
  for (const auto& of_station : verdicts) counting.push_back(counting_nests(scene, of_station));
  std::vector<SharedNests> links;
  for (std::size_t a = 0; a < counting.size(); ++a) {
    for (std::size_t b = a + 1; b < counting.size(); ++b) {
      SharedNests link{a, b, {}};
      std::set_intersection(counting[a].begin(), counting[a].end(), counting[b].begin(),
                            counting[b].end(), std::back_inserter(link.nests));
      links.push_back(std::move(link));
    }
  }
  return links;
}

nlohmann::ordered_json line_object(const Scene& scene, const SharedNests& shared,
                                   const NestsInLine& line) {
  return {{"a", shared.a},
          {"b", shared.b},
          {"nests", shared.nests},
          {"ends", {line.first.index, line.last.index}},
          {"off", line.off_mm / scene.mm_per_unit}};
}

std::vector<std::size_t> not_tied_to_first(std::size_t stations,
                                           const std::vector<SharedNests>& links) {
  std::vector<bool> is_tied(stations, false);
  if (stations > 0) is_tied[0] = true;
  // Each round but the last ties one more.
  for (bool grew = true; grew;) {
    grew = false;
    for (const SharedNests& link : links) {
      if (is_tied[link.a] == is_tied[link.b]) continue;
      is_tied[link.a] = is_tied[link.b] = grew = true;
    }
  }
  std::vector<std::size_t> loose;
  for (std::size_t s = 0; s < stations; ++s) {
    if (!is_tied[s]) loose.push_back(s);
  }
  return loose;
}

}  // namespace

std::string station_ties(const Scene& scene, const std::vector<std::vector<Verdict>>& verdicts) {
  nlohmann::ordered_json object, lines = nlohmann::ordered_json::array();
  object["links"] = nlohmann::ordered_json::array();
  std::vector<SharedNests> links;
  for (SharedNests& shared : shared_between(scene, verdicts)) {
    if (is_enough(scene, shared.nests)) {
      object["links"].push_back({{"a", shared.a}, {"b", shared.b}, {"nests", shared.nests}});
      links.push_back(std::move(shared));
      continue;
    }
    std::vector<NestId> nests;
    for (const std::size_t nest : shared.nests) nests.emplace_back(nest);
    if (const auto line = nests_in_line(scene, nests))
      lines.push_back(line_object(scene, shared, *line));
  }
  object["loose"] = are_ties_asked(scene) ? not_tied_to_first(verdicts.size(), links)
                                          : std::vector<std::size_t>{};
  object["lines"] = std::move(lines);
  return object.dump();
}

}  // namespace standpoint
