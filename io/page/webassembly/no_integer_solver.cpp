// Stands for planner/stations/cover_program_cbc.cpp in WebAssembly, where there is no CBC yet. A
// plan whose cover is decided by reductions, bounds and exchanges never comes here; any other ends
// with this sentence. Giving back "stopped" instead would pass for a search that ran out of time.

#include <stdexcept>

#include "planner/cover/cover_program.h"

namespace standpoint {

BinaryProgram::Outcome BinaryProgram::minimise(double /*time_limit_s*/,
                                               int /*greatest_cost*/) const {
  throw std::runtime_error("this scene needs an integer solver, and there is none here");
}

}  // namespace standpoint
