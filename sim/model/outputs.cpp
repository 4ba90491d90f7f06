// Written names of notes; they stand in recordings and must never change.
#include "sim/model/outputs.h"

namespace understudy {

std::string_view name_of(NoteKind kind) {
  switch (kind) {
    case NoteKind::kRestarted: return "restarted";
    case NoteKind::kReceiveOverrun: return "receive overrun";
    case NoteKind::kLostInBoot: return "lost in boot";
    case NoteKind::kHostBufferFull: return "host buffer full";
    case NoteKind::kNobodyListening: return "nobody listening";
    case NoteKind::kWriteBufferFull: return "write buffer full";
    case NoteKind::kFrameErrors: return "frame errors";
    case NoteKind::kReadTimedOut: return "read timed out";
    case NoteKind::kBrownedOut: return "browned out";
    case NoteKind::kHeldInLoader: return "held in loader";
    case NoteKind::kProgramStopped: return "program stopped";
  }
  return "";
}

}  // namespace understudy
