#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "geometry/vec.h"
#include "planner/part/feature_filter.h"

namespace standpoint {

enum class Command { check, plan, nests, rehearse, sight, why, compare, features, start, pack };

/// What the user asks for, as typed: checked for itself, not yet against the scene.
struct Request {
  Command command = Command::check;
  std::filesystem::path scene;
  std::vector<std::filesystem::path> files;  ///< compare: the two plans, that before first;
  ///< start: the parts
  bool json = false;
  bool quiet = false;
  bool details = false;  ///< plan, nests, compare: print all, not the summary alone
  std::optional<int> threads;
  std::filesystem::path feature_list;  ///< start: of the part; empty: they are found on the part
  std::filesystem::path hall;          ///< start: a scene file to include; empty for none
  bool replace = false;                ///< start: also where that changes what stands in the folder
  std::filesystem::path folder;        ///< plan, nests, start: where to write
  double time_limit_s = 120;           ///< plan, nests
  bool qif = false;                    ///< plan: write plan.qif too
  std::filesystem::path file;          ///< check: the drawing, empty for none; pack: the zip file
  /// The plan.json or nests.json; rehearse: whose observations are simulated; why: to ask in, empty
  /// for none.
  std::filesystem::path plan;
  int trials = 2000;       ///< rehearse
  std::uint64_t seed = 1;  ///< rehearse
  /// sight, why: the place to look from is `at`, `station` or `measured`. With `measured` one of
  /// the others may be given as the place that was planned; `at` and `station` never together.
  std::optional<Vec3> at;                         ///< in the scene's units, not mm
  std::optional<Vec3> up;                         ///< the standing axis there, not zero; unit
  std::optional<std::string> station;             ///< a fixed place's name; why: or the plan's
  std::optional<std::filesystem::path> measured;  ///< nests and touches as it read them
  std::optional<std::string> feature;             ///< why: what is asked about ...
  std::optional<std::string> nest;                ///< ... exactly one of the two
  bool csv = false;                               ///< features: as a list
  FeatureFilter filter;                           ///< features: what is wanted
  double holes_up_to = 60;                        ///< features, mm
  std::optional<std::string> units;               ///< features: of lists that state none
  std::filesystem::path picture;  ///< why: the .svg or .png to draw into; empty for none
};

}  // namespace standpoint
