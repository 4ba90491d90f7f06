// A panel ready for use: the description, and its line formats compiled in both directions. Shared
// and constant; a device holds nothing else by pointer. Made by sim/panel.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "protocol/field.h"
#include "protocol/framing.h"
#include "protocol/matcher.h"
#include "sim/model/panel_description.h"

namespace understudy {

// Which part of which control (or output) a field of a line carries.
struct FieldSource {
  std::uint16_t part_of = 0;  // its place in controls or outputs
  std::uint8_t part = 0;      // line_parts() in kinds.h; 0 where the kind has one part only
};

inline constexpr int kNoControl = -1;

// One compiled format of lines to the game: which, when it is sent, and for `each` formats whose.
struct GameFormat {
  SendDescription send;
  int control = kNoControl;
};

struct Panel {
  // The file as read; with what stood in the files that it names, written out in full, where there
  // are any; empty where there was none.
  std::string text;
  std::string file_name;  // as given, for messages
  PanelDescription description;

  // Fields stand in the order of controls (outputs), parts in the order of their kind.
  std::vector<protocol::Field> to_game_fields;
  std::vector<FieldSource> to_game_sources;
  protocol::Framing to_game_framing;
  protocol::Matcher to_game;
  std::vector<GameFormat> game_formats;  // one for each format of `to_game`

  std::vector<protocol::Field> to_panel_fields;
  std::vector<FieldSource> to_panel_sources;
  protocol::Framing to_panel_framing;
  protocol::Matcher to_panel;
};

// Bounds that keep a device small and quick to copy; the loader refuses more.
inline constexpr std::size_t kControlsMax = 64;
inline constexpr std::size_t kOutputsMax = 64;
inline constexpr std::size_t kHandPartsMax = 80;   // of all controls together
inline constexpr std::size_t kFieldsMax = 128;     // each way
inline constexpr std::size_t kFormatsMax = 64;      // each way, `each` expanded
inline constexpr std::size_t kLongestBytesMax = 1'024;
inline constexpr std::size_t kHostBufferBytesMax = 16'384;
inline constexpr std::size_t kWriteBufferBytesMax = 4'096;

}  // namespace understudy
