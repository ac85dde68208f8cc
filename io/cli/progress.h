#pragma once

#include <iosfwd>
#include <string>

#include "io/cli/remaining_time.h"
#include "standpoint/plan.h"

namespace standpoint {

/// How far a long job is and how long the present step still takes, on one line of a terminal that
/// rewrites itself. Silent where `is_shown` is false. The line is cleared when the object goes.
class ProgressLine {
 public:
  ProgressLine(std::ostream& err, bool is_shown) : err_(&err), is_shown_(is_shown) {}
  ~ProgressLine() { clear(); }
  ProgressLine(const ProgressLine&) = delete;
  ProgressLine& operator=(const ProgressLine&) = delete;

  /// Says what is being done; nothing is written where the text has not changed.
  void say(const std::string& text);
  void tell(Stage stage, double fraction);
  void clear();

 private:
  std::ostream* err_;
  bool is_shown_;
  RemainingTime remaining_;
  std::string last_;
};

}  // namespace standpoint
