// What CGAL must know of WebAssembly, said before its own header of this name is read. Predicates
// stay exact: without a rounding mode CGAL widens each interval to the next number outward (IA_up
// in its FPU.h), and what the intervals leave open is computed with Boost's exact numbers.
#ifndef STANDPOINT_WEBASSEMBLY_CGAL_FPU_H
#define STANDPOINT_WEBASSEMBLY_CGAL_FPU_H

// WebAssembly rounds to nearest and in no other way.
#define CGAL_ALWAYS_ROUND_TO_NEAREST

// Emscripten offers SSE2's intrinsics, which Eigen uses. CGAL takes that for an x86 processor and
// would write assembler for its registers.
#pragma push_macro("__SSE2__")
#undef __SSE2__
#include_next <CGAL/FPU.h>
#pragma pop_macro("__SSE2__")

#endif
