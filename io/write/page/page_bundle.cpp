#include "io/write/page/page_bundle.h"

#ifdef STANDPOINT_PAGE_BUNDLE

// The assembler puts the files in as they are: no source file of megabytes to compile.
// clang-format off
__asm__(
    ".section .rodata\n"
    ".global standpoint_page_script\n"      "standpoint_page_script:\n"
    ".incbin \"" STANDPOINT_PAGE_BUNDLE "\"\n"
    ".global standpoint_page_script_end\n"  "standpoint_page_script_end:\n"
    ".global standpoint_page_hash\n"        "standpoint_page_hash:\n"
    ".incbin \"" STANDPOINT_PAGE_BUNDLE ".sha256\"\n"
    ".global standpoint_page_hash_end\n"    "standpoint_page_hash_end:\n"
    ".byte 0\n"
    ".text\n");
// clang-format on

extern "C" {
extern const char standpoint_page_script[], standpoint_page_script_end[];
extern const char standpoint_page_hash[], standpoint_page_hash_end[];
}

namespace standpoint {

std::string_view page_bundle() {
  return {standpoint_page_script, standpoint_page_script_end};
}
std::string_view page_bundle_sha256() {
  return {standpoint_page_hash, standpoint_page_hash_end};
}

}  // namespace standpoint

#else

namespace standpoint {

std::string_view page_bundle() {
  return {};
}
std::string_view page_bundle_sha256() {
  return {};
}

}  // namespace standpoint

#endif
