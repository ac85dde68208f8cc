#include "geometry/direction_memory.h"

namespace standpoint {
namespace {

// An answer about a patch as a byte; 0 where nothing is known.
constexpr std::uint8_t kOpen = 0x0f, kNo = 0x10, kIsKnown = 0x20;

/// Beside the answers and the numbers themselves: the entry of the map, and what allocations cost.
constexpr std::size_t kBytesOfEntry = 256;

/// Patches of all coarser levels come first: six of level 0, four times as many of each next.
std::uint32_t place_of(const DirectionPatch& patch) {
  return 2u * ((1u << (2 * patch.level)) - 1) + patch.index();
}

}  // namespace

std::optional<PatchAnswer> KnownDirections::patch(const DirectionPatch& patch) const {
  // Each byte says all there is about its patch, so no order between them is needed.
  const std::uint8_t byte = patches_[place_of(patch)].load(std::memory_order_relaxed);
  if (byte == 0) return std::nullopt;
  return PatchAnswer{(byte & kNo) != 0, static_cast<std::uint8_t>(byte & kOpen)};
}

void KnownDirections::keep(const DirectionPatch& patch, PatchAnswer answer) {
  const int byte = kIsKnown | (answer.is_no ? kNo : 0) | (answer.open & kOpen);
  patches_[place_of(patch)].store(static_cast<std::uint8_t>(byte), std::memory_order_relaxed);
}

std::optional<bool> KnownDirections::direction(std::uint32_t finest_index) const {
  const std::uint32_t word = directions_[finest_index / kInWord].load(std::memory_order_relaxed);
  const std::uint32_t bits = word >> (2 * (finest_index % kInWord)) & 3;
  if (bits == 0) return std::nullopt;
  return bits == 3;
}

void KnownDirections::keep(std::uint32_t finest_index, bool is_yes) {
  const std::uint32_t bits = is_yes ? 3 : 1;
  directions_[finest_index / kInWord].fetch_or(bits << (2 * (finest_index % kInWord)),
                                               std::memory_order_relaxed);
}

std::shared_ptr<KnownDirections> DirectionMemory::about(const std::vector<double>& question) {
  const std::lock_guard lock(changing_);
  const auto known = known_.find(question);
  if (known != known_.end()) return known->second;
  auto made = std::make_shared<KnownDirections>();
  const std::size_t added =
      sizeof(KnownDirections) + question.size() * sizeof(double) + kBytesOfEntry;
  if (bytes_ + added <= most_bytes_) {
    bytes_ += added;
    known_.emplace(question, made);
  }
  return made;
}

std::size_t DirectionMemory::bytes() const {
  const std::lock_guard lock(changing_);
  return bytes_;
}

}  // namespace standpoint
