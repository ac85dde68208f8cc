#include "io/read/text/fault_text.h"

#include <ostream>

#include <nlohmann/json.hpp>

#include "io/words/json_parts.h"
#include "io/words/text.h"

namespace standpoint {

void print_faults(const Faults& faults, std::ostream& err) {
  for (const Fault& fault : faults) {
    err << for_terminal(fault.where) << ": ";
    if (!fault.value.empty()) err << for_terminal(fault.value) << ": ";
    err << for_terminal(fault.allowed) << '\n';
  }
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
    entry["kind"] = fault_word(fault.kind);
    object["faults"].push_back(std::move(entry));
  }
  return json::write(object);
}

}  // namespace standpoint
