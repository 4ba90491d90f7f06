// One function for each kind of event; the order of keys in them is the canonical order.
#include "sim/record/event_text.h"

#include "sim/base/check.h"

namespace understudy {
namespace {

using namespace recorded;

void put_truth(LineText& text, bool truth) {
  text.put(truth ? "true" : "false");
}

// Left out where there is none: as it stood before controls and outputs had parts.
void put_part(LineText& text, std::string_view part) {
  if (part.empty()) return;
  text.put(R"(,"part":")");
  text.put_quoted(part);
  text.put("\"");
}

void put(LineText& text, const ToGame& it) {
  text.put(R"(panel")");
  text.put_bytes(it.bytes);
  if (it.late_us == 0) return;
  text.put(R"(,"late_us":)");
  text.put_number(it.late_us);
}

void put(LineText& text, const OutputSet& it) {
  text.put(R"(panel","output":")");
  text.put_quoted(it.output);
  text.put("\"");
  put_part(text, it.part);
  text.put(R"(,"number":)");
  text.put_number(it.number);
}

void put(LineText& text, const Noted& it) {
  text.put(R"(panel","note":")");
  text.put(name_of(it.kind));
  text.put(R"(","count":)");
  text.put_number(it.count);
}

void put(LineText& text, const FromGame& it) {
  text.put(R"(game")");
  text.put_bytes(it.bytes);
}

void put_how(LineText& text, Duration duration, Curve curve) {
  text.put(R"(,"duration_ns":)");
  text.put_number(duration.ns);
  text.put(R"(,"curve":")");
  text.put(name_of(curve));
  text.put("\"");
}

void put(LineText& text, const HandMoved& it) {
  text.put(R"(hand","control":")");
  text.put_quoted(it.control);
  text.put("\"");
  put_part(text, it.part);
  text.put(R"(,"to_ppm":)");
  text.put_number(it.to_ppm);
  put_how(text, it.duration, it.curve);
}

// Without "control", so that programs of format 1.0 pass it over as an event they do not know.
void put(LineText& text, const HandTurned& it) {
  text.put(R"(hand","turned":")");
  text.put_quoted(it.control);
  text.put("\"");
  put_part(text, it.part);
  text.put(R"(,"by_ppm":)");
  text.put_number(it.by_ppm);
  put_how(text, it.duration, it.curve);
}

void put(LineText& text, const HandHeld& it) {
  text.put(it.held ? R"(hand","holds":")" : R"(hand","lets_go":")");
  text.put_quoted(it.control);
  text.put("\"");
  put_part(text, it.part);
}

void put(LineText& text, const SourceChanged& it) {
  text.put(R"(link","event":"source","source":")");
  text.put(name_of(it.source));
  text.put("\"");
}

void put(LineText& text, const LinkOpened& it) {
  text.put(R"(link","event":"opened","dtr":)");
  put_truth(text, it.dtr);
  text.put(R"(,"takes_at_once":)");
  put_truth(text, it.takes_at_once);
}

void put(LineText& text, const LinkClosed&) {
  text.put(R"(link","event":"closed")");
}

void put(LineText& text, const LineSettings& it) {
  text.put(R"(link","event":"line settings","baud":)");
  text.put_number(it.baud);
  text.put(R"(,"stop_bits":)");
  text.put_number(it.stop_bits);
}

void put(LineText& text, const ModemLines& it) {
  text.put(R"(link","event":"modem lines","dtr":)");
  put_truth(text, it.dtr);
  text.put(R"(,"rts":)");
  put_truth(text, it.rts);
}

void put(LineText& text, const Taken& it) {
  text.put(R"(link","event":"taken","bytes":)");
  text.put_number(it.bytes);
}

void put(LineText& text, const Slipped& it) {
  text.put(R"(link","event":"slipped","by_ns":)");
  text.put_number(it.by.ns);
}

// `"KEY":"VALUE"`
void put_member(LineText& text, std::string_view key, std::string_view value) {
  text.put("\"");
  text.put(key);
  text.put("\":\"");
  text.put_quoted(value);
  text.put("\"");
}

void put(LineText& text, const PanelRead& it) {
  text.put("file\",");
  put_member(text, "panel", it.panel);
  text.put(",");
  put_member(text, "resolved", it.resolved);
}

void put(LineText& text, const Mark& it) {
  text.put(R"(mark","text":")");
  text.put_quoted(it.text);
  text.put("\"");
}

void put(LineText& text, const Check& it) {
  text.put(R"(check","fingerprint":")");
  text.put_digest(it.fingerprint);
  text.put(R"(","inputs":")");
  text.put_digest(it.inputs);
  text.put("\"");
}

void put(LineText& text, const Ended& it) {
  text.put(R"(mark","ended":")");
  text.put_quoted(it.reason);
  text.put("\"");
}

void put(LineText& text, const RecordedSeat& seat) {
  text.put("{");
  put_member(text, "name", seat.name);
  text.put(",");
  put_member(text, "panel", seat.panel);
  text.put(",");
  put_member(text, "resolved", seat.resolved);
  text.put(R"(,"whole_lines":)");
  put_truth(text, seat.whole_lines);
  if (seat.source != SeatSource::kDevice) {
    text.put(",");
    put_member(text, "source", name_of(seat.source));
  }
  text.put(R"(,"links":[)");
  for (std::size_t i = 0; i < seat.links.size(); ++i) {
    text.put(i == 0 ? "\"" : ",\"");
    text.put_quoted(seat.links[i]);
    text.put("\"");
  }
  text.put("]}");
}

}  // namespace

std::string_view name_of(Curve curve) {
  switch (curve) {
    case Curve::kAtOnce:
      return "at once";
    case Curve::kLinear:
      return "linear";
    case Curve::kMinimumJerk:
      return "minimum jerk";
  }
  return "";
}

std::string_view name_of(SeatSource source) {
  switch (source) {
    case SeatSource::kDevice:
      return "device";
    case SeatSource::kBox:
      return "box";
    case SeatSource::kRecording:
      return "recording";
  }
  return "";
}

std::string header_line(const RecordingHeader& header) {
  LineText text;
  text.put(R"({"format":")");
  text.put_number(kRecordingMajor);
  text.put(".");
  text.put_number(header.minor);
  text.put(R"(","model":)");
  text.put_number(header.model);
  text.put(R"(,"seed":)");
  text.put_number(header.seed);
  text.put(",");
  put_member(text, "start", header.start);
  text.put(",");
  put_member(text, "program", header.program);
  text.put(R"(,"seats":[)");
  for (std::size_t i = 0; i < header.seats.size(); ++i) {
    if (i > 0) text.put(",");
    put(text, header.seats[i]);
  }
  text.put("]}\n");
  return std::string(text.view());
}

EventText::EventText(const RecordingHeader& header) {
  for (const RecordedSeat& seat : header.seats) {
    LineText text;
    text.put(",");
    put_member(text, "seat", seat.name);
    text.put(R"(,"from":")");
    seats_.emplace_back(text.view());
  }
}

std::string_view EventText::line(const RecordedEvent& event) {
  CHECK(event.seat < seats_.size() || event.seat == kWholeSession,
        "an event is of a seat that the header does not know");
  text_.clear();
  text_.put(R"({"ns":)");
  text_.put_number(event.at.ns);
  text_.put(event.seat == kWholeSession ? R"(,"from":")" : std::string_view(seats_[event.seat]));
  std::visit([this](const auto& it) { put(text_, it); }, event.what);
  text_.put("}\n");
  return text_.view();
}

}  // namespace understudy
