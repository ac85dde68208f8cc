#include "planner/stations/shared_parts.h"

#include <algorithm>

#include "planner/reach/element.h"

namespace standpoint {

bool are_enough(const Feature& feature, const TouchSet& set, ConstBitSpan touches) {
  std::vector<bool> reached(set.touches.size());
  for (std::size_t t = 0; t < reached.size(); ++t) reached[t] = has_bit(touches, t);
  return is_enough(feature, set, reached);
}

Verdict verdict_together(const Scene& scene, FeatureId feature, const SharedParts& parts,
                         const std::vector<CandidateId>& chosen) {
  Verdict best = Verdict::blocked;
  for (const SharedParts::Way& way : parts.ways) {
    const Verdict verdict =
        is_full_target(scene, way.target) ? Verdict::full_target : Verdict::offset_stylus;
    if (verdict >= best) continue;
    std::vector<BitWord> touches(words_for(way.set.touches.size()), 0);
    for (const CandidateId c : chosen) {
      const auto at = std::lower_bound(way.candidates.begin(), way.candidates.end(), c);
      if (at == way.candidates.end() || *at != c) continue;
      const ConstBitSpan own = way.reached[static_cast<std::size_t>(at - way.candidates.begin())];
      for (std::size_t w = 0; w < touches.size(); ++w) touches[w] |= own[w];
    }
    if (are_enough(scene.features[feature.index], way.set, touches)) best = verdict;
  }
  return best;
}

void PartsCollector::add(TargetId target, const TouchSet& set, std::size_t first,
                         const std::vector<std::vector<bool>>& reached) {
  auto at = std::find_if(found_.begin(), found_.end(),
                         [&](const Found& found) { return found.target == target; });
  if (at == found_.end()) at = found_.insert(at, Found{target, set, {}, {}});
  for (std::size_t i = 0; i < reached.size(); ++i) {
    if (reached[i].empty()) continue;
    at->candidates.emplace_back(first + i);
    std::vector<BitWord>& bits = at->reached.emplace_back(words_for(set.touches.size()), 0);
    for (std::size_t t = 0; t < reached[i].size(); ++t)
      if (reached[i][t]) set_bit(bits, t);
  }
}

SharedParts PartsCollector::collected(const Feature& feature) const {
  SharedParts parts;
  for (const Found& found : found_) {
    std::vector<BitWord> all(words_for(found.set.touches.size()), 0);
    for (const std::vector<BitWord>& bits : found.reached)
      for (std::size_t w = 0; w < all.size(); ++w) all[w] |= bits[w];
    if (found.candidates.size() < 2 || !are_enough(feature, found.set, all)) continue;
    SharedParts::Way& way = parts.ways.emplace_back();
    way.target = found.target;
    way.set = found.set;
    way.candidates = found.candidates;
    way.reached = BitMatrix(found.reached.size(), found.set.touches.size());
    for (std::size_t i = 0; i < found.reached.size(); ++i)
      std::copy(found.reached[i].begin(), found.reached[i].end(), way.reached[i].begin());
  }
  return parts;
}

}  // namespace standpoint
