#pragma once

#include "io/write/json/plan_json.h"
#include "tests/io/schema_check.h"
#include "tests/io/write/hand_made.h"

namespace standpoint::hand_made {

/// plan.json of the hand-made plan, read back.
[[nodiscard]] inline schema_check::Json plan_document() {
  const Plan made = plan();
  const Scene of = scene();
  return schema_check::Json::parse(plan_json(of, made, find_cautions(of, made)));
}

}  // namespace standpoint::hand_made
