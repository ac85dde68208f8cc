#pragma once

#include <cstdint>
#include <vector>

#include "geometry/vec.h"
#include "standpoint/nests.h"

namespace standpoint {

/// How sites tie given stations together (contract section 4), beside nests that are there already.
/// Immutable; safe to query from many threads.
class NestTies {
 public:
  struct Question {
    std::vector<Vec3> places;  ///< of the nests that are there, then of the sites, mm
    std::size_t existing = 0;  ///< how many are there
    /// For each nest and site, for each station: whether it counts as shared from there.
    std::vector<std::vector<char>> counts;
    std::size_t stations = 0;
    int shared_nests = 3;
    bool are_asked = true;  ///< false: everything is tied
  };
  explicit NestTies(Question question);

  [[nodiscard]] std::size_t site_count() const { return q_.places.size() - q_.existing; }

  /// How many nests more are needed at least, as far as counting tells, to tie all stations; 0
  /// exactly when the links among them connect them all. A link whose nests are enough but in one
  /// line lacks one. O(stations^2 x nests).
  [[nodiscard]] int missing(const SiteSet& sites) const;

  struct Least {
    bool is_possible = true;  ///< false: proven, no set of sites ties the stations
    int sites = 0;            ///< proven: no fewer do
    SiteSet example;          ///< enough when only counted; they may be in one line. May be empty
  };
  /// The fewest sites by counting alone: nests in one line pass. So no set that ties the stations
  /// is smaller. An integer program with a variable for each kind of site (those that count from
  /// the same stations are interchangeable) and each link; that links connect is kept by cuts. CBC,
  /// silent, one thread; where `time_limit_s` runs out, the bound proven so far.
  [[nodiscard]] Least least_sites(double time_limit_s) const;

 private:
  Question q_;
  int least_ = 3;  ///< fewer than three nests are always in one line
  std::vector<std::uint32_t> existing_;
};

}  // namespace standpoint
