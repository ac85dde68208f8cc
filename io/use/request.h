#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>

#include "geometry/vec.h"

namespace standpoint {

enum class Command { check, plan, nests, rehearse, sight, why, pack };

/// What the user asks for, as typed: checked for itself, not yet against the scene.
struct Request {
  Command command = Command::check;
  std::filesystem::path scene;
  bool json = false;
  bool quiet = false;
  bool details = false;  ///< plan, nests: print all, not the summary alone
  std::optional<int> threads;
  std::filesystem::path folder;  ///< plan, nests: where to write
  double time_limit_s = 120;     ///< plan, nests
  std::filesystem::path file;    ///< check: the drawing, empty for none; pack: the zip file
  /// The plan.json or nests.json; rehearse: whose observations are simulated; why: to ask in, empty
  /// for none.
  std::filesystem::path plan;
  int trials = 2000;       ///< rehearse
  std::uint64_t seed = 1;  ///< rehearse
  /// sight, why: the place to look from is `at`, `station` or `measured`. With `measured` one of
  /// the others may be given as the place that was planned; `at` and `station` never together.
  std::optional<Vec3> at;                         ///< in the scene's units, not mm
  std::optional<std::string> station;             ///< a fixed place's name; why: or the plan's
  std::optional<std::filesystem::path> measured;  ///< nests as the instrument read them
  std::optional<std::string> feature;             ///< why: what is asked about ...
  std::optional<std::string> nest;                ///< ... exactly one of the two
  std::filesystem::path picture;  ///< why: the .svg or .png to draw into; empty for none
};

}  // namespace standpoint
