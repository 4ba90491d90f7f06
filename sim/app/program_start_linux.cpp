// Words come as bytes and streams carry bytes: there is little to do.
#include <signal.h>

#include "sim/app/program_start.h"

namespace understudy {

std::vector<std::string> start_program(int count, char** words) {
  return {words + 1, words + count};
}

void outlive_broken_pipes() {
  signal(SIGPIPE, SIG_IGN);
}

}  // namespace understudy
