// Finds lines and their endings in bytes; what the lines mean is learnt in learn.cpp.
#include "sim/panel/samples.h"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <optional>

#include "sim/base/text.h"

namespace understudy {
namespace {

using Json = nlohmann::json;

constexpr std::size_t kLinesMax = 200'000;  // more tell nothing new
constexpr std::size_t kLineBytesMax = 1'024;

// Bytes of one direction, and when each part of them came.
struct Stream {
  std::string bytes;
  std::vector<std::pair<std::size_t, Instant>> parts;  // where a part begins

  void add(std::string_view text, Instant at) {
    parts.emplace_back(bytes.size(), at);
    bytes += text;
  }
};

// "\n" or "\r\n" where there are any; without, the sign that ends most: > ; $ or |.
std::string ending_of(const std::string& bytes) {
  const auto feeds = std::count(bytes.begin(), bytes.end(), '\n');
  if (feeds > 0) {
    std::size_t returns = 0;
    for (std::size_t at = bytes.find("\r\n"); at != std::string::npos;
         at = bytes.find("\r\n", at + 2))
      ++returns;
    return 2 * returns > static_cast<std::size_t>(feeds) ? "\r\n" : "\n";
  }
  if (bytes.find('\r') != std::string::npos) return "\r";
  std::string best;
  std::ptrdiff_t most = 0;
  for (const char sign : {'>', ';', '$', '|'}) {
    const auto count = std::count(bytes.begin(), bytes.end(), sign);
    if (count > most) {
      most = count;
      best = sign;
    }
  }
  return best;
}

// The lines of a stream, without their ending; > stays, for it goes with a <. The first may be cut.
std::vector<SampleLine> lines_in(const Stream& stream, const std::string& ending) {
  std::vector<SampleLine> lines;
  const std::string& bytes = stream.bytes;
  std::size_t part = 0;
  for (std::size_t at = 0; at < bytes.size() && lines.size() < kLinesMax;) {
    const std::size_t end = ending.empty() ? std::string::npos : bytes.find(ending, at);
    const std::size_t stop = std::min(end, bytes.size());
    std::string text = bytes.substr(at, stop - at);
    if (ending == ">" && end != std::string::npos) text += '>';
    if (ending == "\n" && text.ends_with('\r')) text.pop_back();
    while (part + 1 < stream.parts.size() && stream.parts[part + 1].first <= stop) ++part;
    const Instant when = stream.parts.empty() ? Instant{} : stream.parts[part].second;
    if (!text.empty() && text.size() <= kLineBytesMax && is_valid_utf8(text))
      lines.push_back({std::move(text), when});
    if (end == std::string::npos) break;
    at = end + ending.size();
  }
  return lines;
}

std::optional<std::string> bytes_of_hex(const std::string& hex) {
  const auto digit = [](char c) {
    if (c >= '0' && c <= '9') return c - '0';
    if (c >= 'a' && c <= 'f') return c - 'a' + 10;
    if (c >= 'A' && c <= 'F') return c - 'A' + 10;
    return -1;
  };
  std::string bytes;
  for (std::size_t i = 0; i + 1 < hex.size(); i += 2) {
    if (digit(hex[i]) < 0 || digit(hex[i + 1]) < 0) return std::nullopt;
    bytes += static_cast<char>(digit(hex[i]) * 16 + digit(hex[i + 1]));
  }
  return bytes;
}

std::string text_of(const Json& object, const char* key) {
  const auto at = object.find(key);
  return at != object.end() && at->is_string() ? at->get<std::string>() : "";
}

// One event of a recording, put to its direction. Unknown events are skipped, as everywhere.
void take_event(const Json& event, std::optional<Json>& seat, Stream& to_game, Stream& to_panel) {
  const std::string from = text_of(event, "from");
  if (from != "panel" && from != "game") return;
  const Json its_seat = event.value("seat", Json());
  if (!seat) seat = its_seat;
  if (its_seat != *seat) return;
  std::string bytes = text_of(event, "text");
  if (bytes.empty()) bytes = bytes_of_hex(text_of(event, "hex")).value_or("");
  const auto ns = event.find("ns");
  const Instant at{ns != event.end() && ns->is_number_integer() ? ns->get<std::int64_t>() : 0};
  (from == "panel" ? to_game : to_panel).add(bytes, at);
}

// True where the first line is an object that only a recording begins with.
bool is_recording(std::string_view text) {
  const std::string_view first = text.substr(0, text.find('\n'));
  const Json object = Json::parse(first, nullptr, false);
  return object.is_object() && (object.contains("format") || object.contains("from"));
}

Samples samples_of_recording(std::string_view text) {
  Stream to_game;
  Stream to_panel;
  std::optional<Json> seat;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    const Json event = Json::parse(text.substr(0, end), nullptr, false);
    if (event.is_object()) take_event(event, seat, to_game, to_panel);
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  Samples samples;
  samples.timed = true;
  samples.to_game_ends = ending_of(to_game.bytes);
  samples.to_panel_ends = ending_of(to_panel.bytes);
  samples.to_game = lines_in(to_game, samples.to_game_ends);
  samples.to_panel = lines_in(to_panel, samples.to_panel_ends);
  return samples;
}

Error unusable(std::string_view file_name, const char* why) {
  return {ErrorCode::kUnusable, "cannot learn from " + std::string(file_name) + ": " + why};
}

}  // namespace

Result<Samples> samples_of_line(std::string_view line) {
  Samples samples;
  for (const std::string_view ending : {"\r\n", "\n", "\\r\\n", "\\n"}) {
    if (!line.ends_with(ending)) continue;
    line.remove_suffix(ending.size());
    samples.to_game_ends = ending.size() == 2 && ending[0] == '\r' ? "\r\n" : "\n";
    if (ending == "\\r\\n") samples.to_game_ends = "\r\n";
    break;
  }
  if (!is_valid_utf8(line) || line.find('\0') != std::string_view::npos)
    return unusable("the line", "it is no UTF-8 text");
  if (line.size() > kLineBytesMax) return unusable("the line", "it has more than 1024 bytes");
  samples.to_game.push_back({std::string(line), {}});
  return samples;
}

Result<Samples> samples_of_file(std::string_view text, std::string_view file_name) {
  // The magic number of a Zstandard frame, RFC 8878, 3.1.1.
  if (text.starts_with("\x28\xb5\x2f\xfd"))
    return unusable(file_name, "it is compressed; zstd -d makes it readable");
  if (text.find('\0') != std::string_view::npos) return unusable(file_name, "it is no text");
  Samples samples;
  if (is_recording(text)) {
    samples = samples_of_recording(text);
  } else {
    Stream stream;
    stream.add(text, {});
    samples.to_game_ends = ending_of(stream.bytes);
    samples.to_game = lines_in(stream, samples.to_game_ends);
  }
  if (samples.to_game.empty()) return unusable(file_name, "it holds no lines from a panel");
  if (samples.to_game_ends.empty()) samples.to_game_ends = "\n";
  if (samples.to_panel_ends.empty()) samples.to_panel_ends = "\n";
  return samples;
}

}  // namespace understudy
