#include "io/write/text/plan_answer_text.h"

#include "io/write/text/advice_text.h"
#include "io/write/text/plan_summary.h"
#include "io/write/text/plan_text.h"

namespace standpoint {

void print_plan_answer(const PlanAnswer& answer, bool details, std::ostream& out) {
  constexpr std::size_t kLeft = 2;
  const Scene& scene = answer.cell.scene();
  if (details) {
    print_plan(scene, answer.plan, answer.cautions, out);
    print_advice(scene, answer.plan, answer.advice, out);
  } else {
    print_plan_summary(scene, answer.plan, answer.cautions, kSummaryLines - kLeft, out);
  }
}

}  // namespace standpoint
