#include "io/read/text/json_cursor.h"

#include <algorithm>

#include "io/read/text/nearest_name.h"

namespace standpoint {

std::string Cursor::pointer() const {
  if (parent == nullptr) return "";
  const std::string step = index ? "/" + std::to_string(*index) : pointer_step(key);
  return parent->pointer() + step;
}

std::uint32_t Cursor::order() const {
  if (value != nullptr) return value->order;
  return parent != nullptr ? parent->order() : 0;
}

ObjectCursor::ObjectCursor(const Cursor& at)
    : at_(&at), members_(at.expect<JsonObject>("an object")) {}

Cursor ObjectCursor::member(std::string_view key, bool is_required) const {
  Cursor cursor{nullptr, at_, key, std::nullopt, at_->faults, is_required};
  if (members_ == nullptr) return cursor;
  const auto found = std::find_if(members_->begin(), members_->end(),
                                  [&](const JsonMember& member) { return member.key == key; });
  if (found != members_->end()) cursor.value = &found->value;
  return cursor;
}

void ObjectCursor::allow(std::span<const std::string_view> keys,
                         std::span<const std::string_view> passed_over) const {
  if (members_ == nullptr) return;
  for (const JsonMember& member : *members_) {
    const auto has = [&](std::span<const std::string_view> list) {
      return std::find(list.begin(), list.end(), member.key) != list.end();
    };
    if (has(keys) || has(passed_over)) continue;
    const Cursor at{&member.value, at_, member.key, std::nullopt, at_->faults};
    if (at.faults->full()) {
      at.faults->count_only();
      continue;
    }
    std::string known;
    for (const std::string_view key : keys) {
      if (!known.empty()) known += ", ";
      known += key;
    }
    at.fault_near(FaultKind::unknown_key, nearest_name(member.key, keys), known);
  }
}

const JsonList* expect_list(const Cursor& at, const CountRule& rule) {
  const auto* entries = at.expect<JsonList>(rule.expected);
  if (entries == nullptr) return nullptr;
  if (entries->size() < rule.least)
    at.fault(FaultKind::too_few_entries, rule.expected, entries->size());
  if (entries->size() > rule.most)
    at.fault(FaultKind::too_many_entries, rule.expected, entries->size());
  return entries;
}

Cursor entry_of(const Cursor& list, const JsonList& entries, std::size_t index) {
  return {&entries[index], &list, {}, index, list.faults};
}

}  // namespace standpoint
