// What makes the page more than a sheet: the plan, the scene and its meshes as data, and the app.

#include "io/write/page/page_live.h"

#include "io/write/page/mesh_pack.h"
#include "io/write/page/page_bundle.h"
#include "io/write/page/page_scene.h"

namespace standpoint::page {
namespace {

/// JSON inside a <script>: there every '<' stands in a string, and as \\u003c it can end nothing.
std::string for_script(std::string_view json) {
  std::string safe;
  safe.reserve(json.size());
  for (const char c : json) {
    if (c == '<')
      safe += "\\u003c";
    else
      safe += c;
  }
  return safe;
}

std::string data_block(const char* type, const char* id, const std::string& content) {
  return std::string("<script type=\"") + type + "\" id=\"" + id + "\">" + content + "</script>\n";
}

}  // namespace

std::string security_policy(bool is_live) {
  // 'unsafe-inline' is for styles alone; of scripts only the one with this hash runs. The engine
  // is WebAssembly in a worker made from the script's own text.
  std::string policy = "default-src 'none'; style-src 'unsafe-inline'";
  if (is_live) {
    policy += "; img-src data: blob:; worker-src blob:; script-src 'wasm-unsafe-eval' 'sha256-";
    policy += page_bundle_sha256();
    policy += "'";
  }
  return policy;
}

std::string live_blocks(const Cell& cell, std::string_view plan_json) {
  std::string blocks = data_block("application/json", "plan-data", for_script(plan_json));
  blocks += data_block("application/json", "scene-data", for_script(page_scene(cell)));
  blocks += data_block("application/octet-stream", "mesh-data", pack_meshes(cell));
  blocks += "<script>";
  blocks += page_bundle();
  blocks += "</script>\n";
  return blocks;
}

std::string why_not_live() {
  return "<p class=\"note\">The program that wrote this page was built without the part that "
         "shows the plan in the browser (STANDPOINT_PAGE=OFF).</p>\n";
}

}  // namespace standpoint::page
