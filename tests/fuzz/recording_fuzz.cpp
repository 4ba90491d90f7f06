// Recordings of any bytes: reading and verifying end with an answer, never with a crash; what is
// read is written and read again alike; the fast and the thorough way of reading agree.
#include "tests/fuzz/fuzz_one.h"

#include <string>

#include "sim/base/check.h"
#include "sim/record/event_json.h"
#include "sim/record/event_scan.h"
#include "sim/record/event_text.h"
#include "sim/record/reader.h"
#include "sim/record/verify.h"

namespace understudy {
namespace {

// Reads a canonical line by the thorough way and compares.
void read_again(const RecordingHeader& header, const RecordedEvent& event) {
  EventText text(header);
  std::string line(text.line(event));
  line.pop_back();
  const SeatNames seats(header);
  EventRoom room;
  RecordedEvent thorough;
  const JsonLine judged = read_event(line, seats, room, thorough);
  CHECK(judged.kind == JsonLine::Kind::kEvent, "a line that we wrote is not read");
  CHECK(thorough == event, "an event changed between writing and reading");
  EventRoom fast_room;
  RecordedEvent fast;
  if (scan_event(line, seats, fast_room, fast))
    CHECK(fast == event, "the fast way of reading differs from the thorough one");
}

}  // namespace

void fuzz_one(std::span<const std::uint8_t> input) {
  const std::string bytes(input.begin(), input.end());
  Result<RecordingReader> reader = RecordingReader::from_bytes(bytes, "fuzz");
  if (!reader.ok()) {
    CHECK(!reader.error().text.empty(), "a refusal without words");
    return;
  }
  RecordedEvent event;
  for (;;) {
    const RecordingReader::Got got = reader.value().next(event);
    if (got == RecordingReader::Got::kEnd) break;
    if (got == RecordingReader::Got::kEvent)
      read_again(reader.value().header(), event);
    else
      CHECK(!reader.value().problem().empty(), "a bad line without words");
  }
  Result<RecordingReader> again = RecordingReader::from_bytes(bytes, "fuzz");
  CHECK(again.ok(), "the same bytes were refused the second time");
  const Result<VerifyReport> report = verify(again.value());
  if (!report.ok()) CHECK(!report.error().text.empty(), "a refusal without words");
}

}  // namespace understudy
