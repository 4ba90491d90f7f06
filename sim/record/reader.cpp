// Each line first goes through the fast scanner; what that does not know goes through the thorough
// one, which also finds the words for what is wrong.
#include "sim/record/reader.h"

#include "sim/record/event_json.h"

namespace understudy {
namespace {

constexpr std::string_view kByteOrderMark = "\xef\xbb\xbf";

std::string too_long(std::size_t bytes_max) {
  return "longer than " + std::to_string(bytes_max / (1024 * 1024)) + " MiB";
}

// What the first line says, or why it is no header.
Result<RecordingHeader> first_line(LineSource& lines) {
  const auto no = [](std::string text) { return Error{ErrorCode::kUnusable, std::move(text)}; };
  std::string_view line;
  switch (lines.next(line, kHeaderLineBytesMax)) {
    case LineSource::Got::kEnd:
      return no("the file is empty");
    case LineSource::Got::kFailed:
      return no(lines.problem());
    case LineSource::Got::kTooLong:
      return no("this is not a recording: its first line is " + too_long(kHeaderLineBytesMax));
    case LineSource::Got::kUnfinished:
    case LineSource::Got::kLine:
      break;
  }
  if (line.starts_with(kByteOrderMark))
    return no("it begins with a byte order mark; save it as UTF-8 without one");
  return read_header(line);
}

}  // namespace

RecordingReader::RecordingReader(LineSource lines, RecordingHeader header)
    : lines_(std::move(lines)), header_(std::move(header)), seats_(header_) {}

Result<RecordingReader> RecordingReader::begin(std::unique_ptr<ByteSource> source,
                                               const std::string& name) {
  LineSource lines(std::move(source));
  Result<RecordingHeader> header = first_line(lines);
  if (!header.ok())
    return Error{header.error().code, "cannot read recording " + name + ": " + header.error().text};
  return RecordingReader(std::move(lines), std::move(header).value());
}

Result<RecordingReader> RecordingReader::open(const std::string& path) {
  Result<std::unique_ptr<ByteSource>> source = open_source(path);
  if (!source.ok()) return source.error();
  return begin(std::move(source).value(), path);
}

Result<RecordingReader> RecordingReader::from_bytes(std::string bytes, const std::string& name) {
  return from_source(memory_source(std::move(bytes)), name);
}

Result<RecordingReader> RecordingReader::from_source(std::unique_ptr<ByteSource> bytes,
                                                     const std::string& name) {
  Result<std::unique_ptr<ByteSource>> source = decompressed(std::move(bytes));
  if (!source.ok())
    return Error{source.error().code, "cannot read recording " + name + ": " + source.error().text};
  return begin(std::move(source).value(), name);
}

RecordingReader::Got RecordingReader::bad(std::string problem) {
  problem_ = "line " + std::to_string(lines_.number()) + ": " + std::move(problem);
  return Got::kBadLine;
}

RecordingReader::Got RecordingReader::next(RecordedEvent& event) {
  for (;;) {
    const std::int64_t passed_over = passed_over_;
    std::string_view line;
    Got got = Got::kEnd;
    switch (lines_.next(line, kEventLineBytesMax)) {
      case LineSource::Got::kLine:
        got = take_line(line, false, event);
        break;
      case LineSource::Got::kUnfinished:
        got = take_line(line, true, event);
        break;
      case LineSource::Got::kTooLong:
        return bad("the line is " + too_long(kEventLineBytesMax));
      case LineSource::Got::kFailed:
        return bad("and after it: " + lines_.problem());
      case LineSource::Got::kEnd:
        torn_ = torn_ || lines_.torn();
        return Got::kEnd;
    }
    if (passed_over_ == passed_over) return got;
  }
}

RecordingReader::Got RecordingReader::take_line(std::string_view line, bool unfinished,
                                                RecordedEvent& event) {
  if (!scan_event(line, seats_, *room_, event)) {
    JsonLine read = read_event(line, seats_, *room_, event);
    if (read.kind == JsonLine::Kind::kUnknownKind && header_.minor > kRecordingMinor) {
      ++passed_over_;
      return Got::kEvent;
    }
    if (read.kind != JsonLine::Kind::kEvent) {
      if (!unfinished) return bad(std::move(read.problem));
      torn_ = true;
      return Got::kEnd;
    }
  }
  saw_ending_ = std::holds_alternative<recorded::Ended>(event.what);
  return Got::kEvent;
}

}  // namespace understudy
