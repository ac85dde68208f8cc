#pragma once

#include <array>
#include <atomic>
#include <cstdint>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <vector>

#include "geometry/directions.h"

namespace standpoint {

/// What is known about a whole patch of directions. A question has up to four parts, and is
/// answered with yes in a direction where each part holds.
struct PatchAnswer {
  bool is_no = false;     ///< the answer is no in every direction of the patch
  std::uint8_t open = 0;  ///< bit k is set where part k is not known to hold all over the patch

  [[nodiscard]] bool is_decided() const { return is_no || open == 0; }
  bool operator==(const PatchAnswer&) const = default;
};

/// The answers to one question about directions, as far as they have been found out.
///
/// Any thread may read and keep at any time. Two threads that keep an answer for one patch must
/// keep the same. All functions O(1).
class KnownDirections {
 public:
  /// Precondition (both): a patch coarser than the finest.
  [[nodiscard]] std::optional<PatchAnswer> patch(const DirectionPatch& patch) const;
  void keep(const DirectionPatch& patch, PatchAnswer answer);
  /// For the centre of the finest patch with this index.
  [[nodiscard]] std::optional<bool> direction(std::uint32_t finest_index) const;
  void keep(std::uint32_t finest_index, bool is_yes);

 private:
  static constexpr std::uint32_t kCoarser = 2u * ((1u << (2 * DirectionPatch::kFinestLevel)) - 1);
  static constexpr std::uint32_t kInWord = 16;  ///< directions, of two bits each

  std::array<std::atomic<std::uint8_t>, kCoarser> patches_{};
  std::array<std::atomic<std::uint32_t>, DirectionPatch::kFinestCount / kInWord> directions_{};
};

/// The answers to many questions, for all who ask: what one thread finds out no other has to.
///
/// A question is named by numbers that say all it depends on. Memory is limited: what does not fit
/// any more is remembered only by its asker. That changes how fast an answer comes, never the
/// answer. Safe from any thread.
class DirectionMemory {
 public:
  /// 17 500 questions. A job of 100 000 touches asks more only where full targets take few of them.
  static constexpr std::size_t kMostBytes = std::size_t{256} << 20;

  explicit DirectionMemory(std::size_t most_bytes = kMostBytes) : most_bytes_(most_bytes) {}

  /// What is known about one question: shared with all who give the same numbers, while there is
  /// space. O(log questions). Precondition: finite numbers. Throws std::bad_alloc.
  [[nodiscard]] std::shared_ptr<KnownDirections> about(const std::vector<double>& question);
  /// What is remembered for all takes up, bytes: never more than the limit.
  [[nodiscard]] std::size_t bytes() const;

 private:
  std::size_t most_bytes_;
  mutable std::mutex changing_;
  std::map<std::vector<double>, std::shared_ptr<KnownDirections>> known_;
  std::size_t bytes_ = 0;
};

}  // namespace standpoint
