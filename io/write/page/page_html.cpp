#include "io/write/page/page_html.h"

#include <fmt/format.h>

#include "io/words/text.h"
#include "io/write/page/page_bundle.h"
#include "io/write/page/page_live.h"
#include "io/write/sheet/page_parts.h"
#include "io/write/sheet/setup_sheet.h"

namespace standpoint {

std::string page_html(const Cell& cell, const Plan& plan, const Cautions& cautions,
                      std::string_view plan_json) {
  const bool is_live = !plan_json.empty() && !page_bundle().empty();
  std::string html =
      "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
      "<meta http-equiv=\"Content-Security-Policy\" content=\"";
  html += page::security_policy(is_live) + "\">\n";
  html +=
      fmt::format("<title>{} \u2013 set-up sheet</title>\n<style>\n{}</style>\n</head>\n<body>\n",
                  for_markup(cell.scene().name), page::style());
  html += setup_sheet(cell, plan, cautions);
  if (is_live) {
    html += page::live_blocks(cell, plan_json);
  } else if (!plan_json.empty()) {
    html += page::why_not_live();
  }
  html += "</body>\n</html>\n";
  return html;
}

}  // namespace standpoint
