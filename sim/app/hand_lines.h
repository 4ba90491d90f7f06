// Hands on standard input, one a line, and what is said of those that cannot be.
#pragma once

#include <cstdint>
#include <memory>
#include <string>

#include "sim/link/lines_in.h"

namespace understudy {

class RunLoop;

// Thread: one.
class HandLines {
 public:
  // Reads standard input, where that is not a terminal.
  explicit HandLines(RunLoop& loop);

  // Gives the loop what came in.
  void bring();
  // Tells refusals that became due; `at_once`: all that are left.
  void tell(bool at_once);
  // When tell() has something to say; kNever: not by itself.
  [[nodiscard]] Instant next_due() const;

 private:
  RunLoop& loop_;
  std::unique_ptr<LinesIn> lines_;
  Instant quiet_until_;
  std::string last_;
  std::int64_t untold_ = 0;
};

}  // namespace understudy
