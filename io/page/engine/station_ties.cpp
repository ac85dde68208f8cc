#include "io/page/engine/station_ties.h"

#include <algorithm>
#include <iterator>

#include <nlohmann/json.hpp>

#include "planner/stations/tie_rule.h"

namespace standpoint {
namespace {

struct Link {
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
  if (nests.size() < static_cast<std::size_t>(least_shared_nests(scene))) return false;
  std::vector<Vec3> places;
  places.reserve(nests.size());
  for (const std::size_t nest : nests) places.push_back(scene.nests[nest].at);
  return are_off_one_line(places);
}

std::vector<Link> links_between(const Scene& scene,
                                const std::vector<std::vector<Verdict>>& verdicts) {
  std::vector<std::vector<std::size_t>> counting;
  counting.reserve(verdicts.size());
  for (const auto& of_station : verdicts) counting.push_back(counting_nests(scene, of_station));
  std::vector<Link> links;
  for (std::size_t a = 0; a < counting.size(); ++a) {
    for (std::size_t b = a + 1; b < counting.size(); ++b) {
      Link link{a, b, {}};
      std::set_intersection(counting[a].begin(), counting[a].end(), counting[b].begin(),
                            counting[b].end(), std::back_inserter(link.nests));
      if (is_enough(scene, link.nests)) links.push_back(std::move(link));
    }
  }
  return links;
}

std::vector<std::size_t> not_tied_to_first(std::size_t stations, const std::vector<Link>& links) {
  std::vector<bool> is_tied(stations, false);
  if (stations > 0) is_tied[0] = true;
  // Each round but the last ties one more.
  for (bool grew = true; grew;) {
    grew = false;
    for (const Link& link : links) {
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
  const std::vector<Link> links = links_between(scene, verdicts);
  nlohmann::ordered_json object;
  object["links"] = nlohmann::ordered_json::array();
  for (const Link& link : links) {
    object["links"].push_back({{"a", link.a}, {"b", link.b}, {"nests", link.nests}});
  }
  object["loose"] = are_ties_asked(scene) ? not_tied_to_first(verdicts.size(), links)
                                          : std::vector<std::size_t>{};
  return object.dump();
}

}  // namespace standpoint
