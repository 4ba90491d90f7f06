// What comes out of a virtual box: chunks for the game with the time each is due, changes of
// outputs, and notes of what happened inside. Flat storage that a caller clears and uses again.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "sim/base/time.h"

namespace understudy {

// One flush chunk: bytes [first, first + size) of StepOutputs::bytes, handed to the host at `due`.
struct Chunk {
  Instant due;
  std::size_t first = 0;
  std::size_t size = 0;
};

// The board set a part of an output to this wire number.
struct OutputChange {
  Instant due;
  std::uint16_t output = 0;  // its place in PanelDescription::outputs
  std::int64_t number = 0;
  std::uint8_t part = 0;  // which part of it (line_parts() in kinds.h); 0 where there is one
};

enum class NoteKind : std::uint8_t {
  kRestarted,        // the board starts: power-on, DTR; count = boot time in ns
  kReceiveOverrun,   // count bytes from the game lost: the board's receive ring was full
  kLostInBoot,       // count bytes from the game lost: the board was starting
  kHostBufferFull,   // count bytes to the game dropped: the host buffer was full
  kNobodyListening,  // count bytes to the game gone: nobody had the port open
  kWriteBufferFull,  // count bytes from the game dropped on the host side
  kFrameErrors,      // count bytes that arrived with a framing error (wrong baud)
  kReadTimedOut,     // the board waited count ns in vain for the end of a line
  kBrownedOut,       // the supply gave way at a load of count microamperes; the board starts anew
  kHeldInLoader,     // a byte from the game reached the loader: it waits count ns after each such
  kProgramStopped,   // the program has used up its heap after count lines; only a restart helps
};

struct Note {
  Instant due;
  NoteKind kind = NoteKind::kRestarted;
  std::int64_t count = 0;
};

struct StepOutputs {
  std::string bytes;
  std::vector<Chunk> chunks;
  std::vector<OutputChange> changes;
  std::vector<Note> notes;
  // What the game said to the box, while a box is the seat's source: for the caller to send there.
  std::string to_box;

  [[nodiscard]] std::string_view bytes_of(const Chunk& chunk) const {
    return std::string_view(bytes).substr(chunk.first, chunk.size);
  }
  void clear() {
    bytes.clear();
    chunks.clear();
    changes.clear();
    notes.clear();
    to_box.clear();
  }
};

// The short written name of a note, as it stands in recordings: "restarted", "receive overrun"...
std::string_view name_of(NoteKind kind);

}  // namespace understudy
