// Each kind adds its place in the list of kinds and its members. The order is part of the format:
// a new kind goes to the end.
#include "sim/record/input_digest.h"

namespace understudy {
namespace {

using namespace recorded;

void add_what(Fingerprint& digest, const LinkOpened& it) {
  digest.add(1);
  digest.add(it.dtr);
  digest.add(it.takes_at_once);
}
void add_what(Fingerprint& digest, const LinkClosed&) {
  digest.add(2);
}
void add_what(Fingerprint& digest, const LineSettings& it) {
  digest.add(3);
  digest.add(it.baud);
  digest.add(it.stop_bits);
}
void add_what(Fingerprint& digest, const ModemLines& it) {
  digest.add(4);
  digest.add(it.dtr);
  digest.add(it.rts);
}
void add_what(Fingerprint& digest, const Taken& it) {
  digest.add(5);
  digest.add(it.bytes);
}
void add_what(Fingerprint& digest, const Slipped& it) {
  digest.add(6);
  digest.add(it.by.ns);
}
void add_what(Fingerprint& digest, const HandMoved& it) {
  digest.add(7);
  digest.add(it.control);
  digest.add(it.to_ppm);
  digest.add(it.duration.ns);
  digest.add(static_cast<int>(it.curve));
  if (!it.part.empty()) digest.add(it.part);  // not at all, as before there were parts
}
void add_what(Fingerprint& digest, const FromGame& it) {
  digest.add(8);
  digest.add(it.bytes);
}
void add_what(Fingerprint& digest, const HandTurned& it) {
  digest.add(9);
  digest.add(it.control);
  digest.add(it.by_ppm);
  digest.add(it.duration.ns);
  digest.add(static_cast<int>(it.curve));
  if (!it.part.empty()) digest.add(it.part);
}
void add_what(Fingerprint& digest, const PanelRead& it) {
  digest.add(10);
  digest.add(it.panel);
  digest.add(it.resolved);
}
void add_what(Fingerprint& digest, const SourceChanged& it) {
  digest.add(11);
  digest.add(static_cast<int>(it.source));
}
void add_what(Fingerprint& digest, const HandHeld& it) {
  digest.add(12);
  digest.add(it.control);
  digest.add(it.held);
  digest.add(it.part);
}
template <class Output>
void add_what(Fingerprint&, const Output&) {}

}  // namespace

bool is_input(const What& what) {
  return std::holds_alternative<FromGame>(what) || std::holds_alternative<HandMoved>(what) ||
         std::holds_alternative<HandTurned>(what) || std::holds_alternative<LinkOpened>(what) ||
         std::holds_alternative<LinkClosed>(what) || std::holds_alternative<LineSettings>(what) ||
         std::holds_alternative<ModemLines>(what) || std::holds_alternative<Taken>(what) ||
         std::holds_alternative<Slipped>(what) || std::holds_alternative<PanelRead>(what) ||
         std::holds_alternative<SourceChanged>(what) || std::holds_alternative<HandHeld>(what);
}

bool is_hand(const What& what) {
  return std::holds_alternative<HandMoved>(what) || std::holds_alternative<HandTurned>(what);
}

InputDigest::InputDigest(const RecordingHeader& header) {
  digest_.add(header.seed);
  digest_.add(header.model);
  for (const RecordedSeat& seat : header.seats) {
    digest_.add(seat.name);
    digest_.add(seat.whole_lines);
    // Not at all where there is none, as before there were others.
    if (seat.source != SeatSource::kDevice) digest_.add(static_cast<int>(seat.source));
  }
}

void InputDigest::add(const RecordedEvent& event) {
  if (!is_input(event.what)) return;
  digest_.add(event.at.ns);
  digest_.add(static_cast<int>(event.seat));
  std::visit([this](const auto& it) { add_what(digest_, it); }, event.what);
}

}  // namespace understudy
