#include "io/read/scene/read_values.h"

#include <fmt/format.h>

#include <array>
#include <cmath>

#include "io/read/text/nearest_name.h"

namespace standpoint {
namespace {

constexpr NumberRule kDirectionPart{"a part of a direction", -1e9, 1e9};

/// A list of exactly N numbers, each allowed by `rule`.
template <std::size_t N>
std::optional<std::array<double, N>> read_numbers(const Cursor& at, const NumberRule& rule) {
  const auto* entries = at.value != nullptr ? at.value->as<JsonList>() : nullptr;
  if (entries == nullptr || entries->size() != N) {  // The text is only made for a fault.
    const std::string expected = fmt::format("a list of {} numbers, each {}", N, describe(rule));
    entries = expect_list(at, {expected, N, N});
  }
  if (entries == nullptr) return std::nullopt;
  std::array<double, N> numbers{};
  bool is_good = entries->size() == N;
  for (std::size_t i = 0; i < entries->size() && i < N; ++i) {
    const auto number = read_number(entry_of(at, *entries, i), rule);
    is_good = is_good && number.has_value();
    numbers[i] = number.value_or(0);
  }
  if (!is_good) return std::nullopt;
  return numbers;
}

}  // namespace

std::optional<double> read_number(const Cursor& at, const NumberRule& rule) {
  const auto* number = at.value != nullptr ? at.value->as<double>() : nullptr;
  if (number == nullptr) number = at.expect<double>(describe(rule));
  if (number == nullptr) return std::nullopt;
  if (*number >= rule.low && *number <= rule.high) return *number;
  at.fault(FaultKind::out_of_range, describe(rule));
  return std::nullopt;
}

std::optional<int> read_whole(const Cursor& at, const NumberRule& rule) {
  const auto number = read_number(at, rule);
  if (!number) return std::nullopt;
  if (*number == std::floor(*number)) return static_cast<int>(*number);
  at.fault(FaultKind::not_whole, describe(rule));
  return std::nullopt;
}

std::optional<bool> read_flag(const Cursor& at) {
  const auto* flag = at.expect<bool>("true or false");
  if (flag == nullptr) return std::nullopt;
  return *flag;
}

std::optional<std::string> read_text(const Cursor& at, std::size_t most) {
  const std::string expected = describe_text(most);
  const auto* text = at.expect<std::string>(expected);
  if (text == nullptr) return std::nullopt;
  if (is_plain_text(*text, most)) return *text;
  at.fault(FaultKind::bad_text, expected);
  return std::nullopt;
}

std::optional<std::string> read_name(const Cursor& at) {
  return read_text(at, kLongestName);
}

std::optional<std::size_t> read_choice(const Cursor& at,
                                       std::span<const std::string_view> choices) {
  std::string expected = choices.size() > 1 ? "one of " : "";
  for (std::size_t i = 0; i < choices.size(); ++i)
    expected += fmt::format("{}\"{}\"", i > 0 ? ", " : "", choices[i]);
  const auto* text = at.expect<std::string>(expected);
  if (text == nullptr) return std::nullopt;
  for (std::size_t i = 0; i < choices.size(); ++i)
    if (*text == choices[i]) return i;
  at.fault_near(FaultKind::unknown_choice, nearest_name(*text, choices), expected);
  return std::nullopt;
}

std::optional<Vec3> read_vec3(const Cursor& at, const NumberRule& rule) {
  const auto numbers = read_numbers<3>(at, rule);
  if (!numbers) return std::nullopt;
  return Vec3((*numbers)[0], (*numbers)[1], (*numbers)[2]);
}

std::optional<Vec2> read_vec2(const Cursor& at, const NumberRule& rule) {
  const auto numbers = read_numbers<2>(at, rule);
  if (!numbers) return std::nullopt;
  return Vec2((*numbers)[0], (*numbers)[1]);
}

std::optional<Vec3> read_direction(const Cursor& at) {
  const auto direction = read_vec3(at, kDirectionPart);
  if (!direction) return std::nullopt;
  const double greatest = direction->cwiseAbs().maxCoeff();
  if (greatest == 0) {
    at.fault(FaultKind::zero_direction);
    return std::nullopt;
  }
  // Scaled first: the squares of tiny parts would vanish.
  return Vec3(*direction / greatest).normalized();
}

std::optional<Interval> read_interval(const Cursor& at, const NumberRule& rule) {
  const auto numbers = read_numbers<2>(at, rule);
  if (!numbers) return std::nullopt;
  if ((*numbers)[0] < (*numbers)[1]) return Interval{(*numbers)[0], (*numbers)[1]};
  at.fault(FaultKind::low_not_below_high);
  return std::nullopt;
}

}  // namespace standpoint
