#include "io/read/scene/name_table.h"

#include "io/read/scene/read_values.h"
#include "io/read/text/nearest_name.h"

namespace standpoint {
namespace {

// A hint compares with every known name: worth it for a few wrong names, not for a wrong file.
constexpr std::size_t kMostCompared = 2000;
constexpr std::size_t kMostHints = 200;

}  // namespace

void NameTable::add(const Cursor& at, const std::string& name, std::size_t index) {
  const auto [entry, is_new] = entries_.try_emplace(name, Entry{index, "", at.faults});
  if (is_new) {
    entry->second.where = at.pointer();
    in_order_.push_back(name);
    return;
  }
  at.fault(FaultKind::duplicate_name, told(entry->second, at.faults));
}

void NameTable::add(const ListedPlace& at, const std::string& name, std::size_t index) {
  const auto [entry, is_new] = entries_.try_emplace(name, Entry{index, at.where, nullptr});
  if (is_new) {
    in_order_.push_back(name);
    return;
  }
  const std::string earlier = told(entry->second, nullptr);
  at.faults->add_of_other_file(at.order, {at.where, short_text(std::string_view(name)),
                                          fmt::vformat(fault_expected(FaultKind::duplicate_name),
                                                       fmt::make_format_args(earlier)),
                                          FaultKind::duplicate_name, ""});
}

std::string NameTable::told(const Entry& entry, const FaultSink* reader) {
  const bool is_elsewhere = entry.document != nullptr && entry.document != reader;
  return is_elsewhere ? entry.document->file() + "#" + entry.where : entry.where;
}

std::optional<std::size_t> NameTable::look_up(const std::string& name) const {
  const auto entry = entries_.find(name);
  if (entry == entries_.end()) return std::nullopt;
  return entry->second.index;
}

std::string NameTable::nearest(const Cursor& at, const std::string& name) const {
  if (in_order_.size() > kMostCompared || at.faults->size() > kMostHints) return "";
  const std::vector<std::string_view> names(in_order_.begin(), in_order_.end());
  return std::string(nearest_name(name, names));
}

std::optional<std::size_t> NameTable::find(const Cursor& at, const std::string& name) const {
  const auto index = look_up(name);
  if (!index && is_complete_) at.fault_near(FaultKind::unknown_name, nearest(at, name), thing_);
  return index;
}

void for_each_name(const Cursor& list, const CountRule& rule,
                   const std::function<void(const Cursor&, const std::string&)>& read) {
  if (list.value == nullptr) return;
  NameTable listed("");
  for_each_entry(list, rule, [&](const Cursor& entry, std::size_t i) {
    const auto name = read_name(entry);
    if (!name) return;
    if (const auto earlier = listed.look_up(*name)) {
      entry.fault(FaultKind::duplicate_entry, *earlier);
      return;
    }
    listed.add(entry, *name, i);
    read(entry, *name);
  });
}

std::string read_own_name(const ObjectCursor& object, NameTable& names, std::size_t index) {
  const Cursor at = object.required("name");
  const auto name = read_name(at);
  if (name) {
    names.add(at, *name, index);
  } else {
    names.mark_incomplete();
  }
  return name.value_or("");
}

}  // namespace standpoint
