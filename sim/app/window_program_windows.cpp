// What is built for Windows has no window yet.
#include "sim/app/window_program.h"

namespace understudy {

Error run_window_program(const std::vector<std::string>&) {
  return {ErrorCode::kLinkFailed,
          "the build for Windows has no window; 'understudy serve' plays the same panels without "
          "one"};
}

}  // namespace understudy
