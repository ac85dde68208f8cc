#include "io/read/text/fault_text.h"

#include <ostream>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "io/words/json_parts.h"
#include "io/words/text.h"

namespace standpoint {

namespace {

/// Whole, unlike what `short_text` makes: it is there to be typed.
std::string quoted(const std::string& name) {
  return for_json(json::text(name).dump());
}

}  // namespace

std::string fault_words(const Fault& fault) {
  // It tells of no place: it counts the faults that have no line of their own.
  if (fault.kind == FaultKind::more_faults) return for_terminal(fault.allowed);
  const std::string_view told = fault_got(fault.kind);
  const std::string_view got = told.empty() ? std::string_view(fault.value) : told;
  std::string words = fault.where.empty() ? "the whole file" : fault.where;
  words += got.empty() ? ": missing" : fmt::format(": got {}", got);
  words += fmt::format(", expected {}", fault.allowed);
  if (!fault.nearest.empty()) words += fmt::format("; nearest: {}", quoted(fault.nearest));
  return for_terminal(words);
}

void print_faults(const Faults& faults, std::ostream& err) {
  for (const Fault& fault : faults) err << fault_words(fault) << '\n';
}

std::string faults_json(const Faults& faults) {
  Json object;
  object["format"] = "standpoint-faults";
  object["version"] = 1;
  object["faults"] = Json::array();
  for (const Fault& fault : faults) {
    Json entry;
    entry["where"] = json::text(fault.where);
    entry["value"] = json::text(fault.value);
    entry["allowed"] = json::text(fault.allowed);
    entry["nearest"] = fault.nearest.empty() ? Json(nullptr) : json::text(fault.nearest);
    entry["kind"] = fault_word(fault.kind);
    object["faults"].push_back(std::move(entry));
  }
  return json::write(object);
}

}  // namespace standpoint
