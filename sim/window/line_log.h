// The lines that went by at one seat, both ways, as people want to read them: held to the newest
// 20,000, filtered, and still while somebody reads. What a line is the observer says; how it looks
// is the area's work. No ImGui, no clock.
#pragma once

#include <cstdint>
#include <deque>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "protocol/line_format.h"
#include "protocol/witness.h"
#include "sim/observe/observer.h"

namespace understudy {

inline constexpr std::size_t kLinesMax = 20'000;

struct LoggedLine {
  std::uint64_t number = 0;  // counted from 0 over both directions
  Instant at;                // of its last byte
  bool to_game = false;
  LineSort sort = LineSort::kRead;
  std::int32_t format = protocol::kUnknownLine;
  std::string text;                    // without markers
  std::shared_ptr<const Panel> panel;  // that it was read by

  // No format reads it, or it is no whole line.
  [[nodiscard]] bool malformed() const { return sort > LineSort::kSaid; }
};

// The places of fields, for colouring; none of what no format reads. Of a malformed line those that
// were read before it went wrong.
std::vector<protocol::LinePlace> places_of(const LoggedLine& line);
// One sentence that says what is wrong, and where: bytes [first_byte, first_byte + bytes).
struct LineTrouble {
  std::string sentence;
  std::uint32_t first_byte = 0;
  std::uint32_t bytes = 0;
};
// Nothing for a line that is well.
std::optional<LineTrouble> trouble_of(const LoggedLine& line);

struct LineFilter {
  bool to_game = true;
  bool to_panel = true;
  bool malformed_only = false;
  std::string contains;  // upper and lower case alike; empty: all
  friend bool operator==(const LineFilter&, const LineFilter&) = default;
  [[nodiscard]] bool passes(const LoggedLine& line) const;
};

class LineLog {
 public:
  explicit LineLog(std::shared_ptr<const Panel> panel) : watcher_(std::move(panel)) {}

  // Each line of these bytes is put down, and shown to `sink`.
  void to_game(Instant t, std::string_view bytes, const LineSink& sink = {});
  void to_panel(Instant t, std::string_view bytes, const LineSink& sink = {});
  void event(const Input& input);
  // The seat goes on with another panel; lines that are here stay as they were read.
  void begin_anew(std::shared_ptr<const Panel> panel);

  // While it pauses, what is shown stays, and lines are still put down behind it.
  void pause(bool pausing);
  [[nodiscard]] bool pausing() const { return still_.has_value(); }
  void set_filter(const LineFilter& filter);
  // The lines that are shown, oldest first.
  [[nodiscard]] std::size_t shown() const { return shelf().passing.size(); }
  [[nodiscard]] const LoggedLine& line(std::size_t i) const;
  // The same as rows of one height: each line, and beneath a malformed one what is wrong with it.
  struct Row {
    const LoggedLine& line;
    bool beneath = false;
  };
  [[nodiscard]] std::size_t rows() const { return shelf().rows.size(); }
  [[nodiscard]] Row row(std::size_t i) const;
  // What has come of a line whose end has not; empty where nothing has.
  [[nodiscard]] std::string_view unfinished(bool to_game) const;
  // When it began, or Instant{-1}.
  [[nodiscard]] Instant unfinished_since(bool to_game) const;
  // How many were put down in all.
  [[nodiscard]] std::uint64_t put_down() const { return next_; }

 private:
  struct Shelf {
    std::deque<LoggedLine> lines;
    std::deque<std::uint64_t> passing;  // numbers of those that the filter lets pass
    std::deque<std::uint64_t> rows;     // twice their numbers, and one more for what is beneath
    void show(const LoggedLine& line);
  };
  [[nodiscard]] const Shelf& shelf() const { return still_ ? *still_ : live_; }
  [[nodiscard]] const Traffic& traffic(bool to_game) const {
    return to_game ? watcher_.traffic_to_game() : watcher_.traffic_to_panel();
  }
  void put_down(bool to_game, const SeenLine& seen);
  void filter(Shelf& shelf) const;

  Observer watcher_;
  protocol::WitnessSieve sieve_;
  Shelf live_;
  std::optional<Shelf> still_;
  LineFilter filter_;
  std::uint64_t next_ = 0;
};

// "12:03.456" since the session's begin; from an hour on "1:02:03.456".
std::string time_of_line(Instant t);
// As it is copied: time, direction, text.
std::string copied(const LoggedLine& line);

}  // namespace understudy
