#include "io/write/files/plan_files.h"

#include "io/write/csv/plan_csv.h"
#include "io/write/json/plan_json.h"
#include "io/write/page/page_html.h"
#include "io/write/qif/plan_qif.h"

namespace standpoint {

std::vector<OutFile> plan_files(const PlanAnswer& answer, bool with_qif) {
  const Scene& scene = answer.cell.scene();
  const Plan& plan = answer.plan;
  const std::string object = plan_json(scene, plan, answer.cautions, &answer.advice);
  std::vector<OutFile> files{{"plan.json", object},
                             {"stations.csv", stations_csv(scene, plan)},
                             {"touches.csv", touches_csv(scene, plan)},
                             {"page.html", page_html(answer.cell, plan, answer.cautions, object)}};
  if (with_qif) files.push_back({"plan.qif", plan_qif(scene, plan)});
  return files;
}

}  // namespace standpoint
