// The window: opens it, draws what the exchange shows, and gives back what the person wants, until
// the person closes it or the session is over.
#pragma once

#include <memory>
#include <string>

#include "sim/base/result.h"
#include "sim/window/exchange.h"

namespace understudy {

struct WindowOptions {
  int width = 0;   // pixels; 0: as remembered, else 1280, beside a game half of the display
  int height = 0;  // 0: as remembered, else 720
  bool beside_game = false;  // a game is started too: at the left edge, so that it has the right
  double scale = 0;          // 1.5: half as large again; 0: as the display says
  bool compact = false;      // the face alone, without a frame
  bool on_top = false;
  std::string picture;  // not empty: draws without any display, writes this PNG file, and returns
  Duration picture_after = seconds(2);  // of the session's time
  bool forget = false;  // neither reads nor writes what is remembered (tests, pictures)
};

// The display is open for as long as somebody holds this; null holds nothing.
using HeldDisplay = std::shared_ptr<void>;

// Opens the display that a window needs, before the session opens its links. Hold it to the end: an
// X server whose last client leaves starts anew, and turns the next one away meanwhile. Errors:
// kLinkFailed, in a sentence that names `serve`. Pictures need no display: null.
Result<HeldDisplay> open_display(const WindowOptions& options);

// While the display is held. Thread: the program's first, which SDL wants; the session runs on
// another. Errors: kLinkFailed (no window after all), kUnusable (the picture cannot be written).
Result<Done> run_window(const WindowOptions& options, Exchange& exchange);

}  // namespace understudy
