// The panel that a recording holds as two texts: the file as it was read, and the same with every
// key and its value; and the seats of a header, ready for a session.
#pragma once

#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "sim/base/result.h"
#include "sim/model/panel.h"
#include "sim/record/event.h"
#include "sim/session/session.h"

namespace understudy {

struct RecordedPanel {
  std::string_view panel;  // empty: there was no file; nor anything known where both are empty
  std::string_view resolved;
  std::string name;  // for messages
};

// What the resolved text describes, with the text as read. Errors (kUnusable): one of the two is no
// panel file, or they describe two panels.
Result<std::shared_ptr<const Panel>> recorded_panel(const RecordedPanel& recorded);

// The seats as they were when the recording began, without players and observers. Errors
// (kUnusable): a panel of the header is none.
Result<std::vector<SeatOptions>> recorded_seats(const RecordingHeader& header);

}  // namespace understudy
