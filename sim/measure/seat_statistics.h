// Everything that is measured of one seat, as its bytes and events come: live, or from a recording.
//
//   SeatStatistics seat({.panel = panel});      // or without a panel: raw lines alone
//   seat.to_game(t, bytes);                     // as they were handed to the game's computer
//   seat.to_panel(t, bytes);                    // as the game wrote them
//   seat.hand_to(t, control, part, to_ppm, duration);   // where hands are known
//   seat.figures(now);                          // at any time
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "protocol/witness.h"
#include "sim/measure/answer_statistics.h"
#include "sim/measure/control_statistics.h"
#include "sim/measure/direction_statistics.h"
#include "sim/measure/lamp_statistics.h"
#include "sim/measure/trace.h"
#include "sim/model/panel.h"

namespace understudy {

struct SeatStatisticsOptions {
  std::shared_ptr<const Panel> panel;  // null: nobody knows the lines
  Duration gap_bound = kGapBound;
  // Of each field's course, for charts; 0: none is kept.
  std::size_t trace_spans_max = 0;
};

// One field to the game.
struct FieldFigures {
  std::string name;  // "power", "stick.x"
  std::string kind;  // of its control, as in panel files
  ControlStatisticsOptions promised;
  ControlFigures figures;
};

struct LampReport {
  std::string name;
  LampFigures figures;
};

struct SeatFigures {
  bool has_panel = false;
  std::string panel;  // its name
  DirectionFigures to_game;
  DirectionFigures to_panel;
  std::vector<FieldFigures> fields;
  std::vector<AnswerFigures> answers;  // from the press to the game's line
  std::vector<AnswerFigures> shown;    // from the press to the output; empty where none was seen
  std::vector<PairFigures> pairs;
  std::vector<LampReport> lamps;
  // What the panel file was read anew to carries other fields: all but the directions is since
  // then.
  std::optional<Instant> anew_since;
  std::int64_t opened = 0;  // how often the port was
};

// Bounded memory; the panel is shared. Times handed in never go back. Movable.
class SeatStatistics {
 public:
  explicit SeatStatistics(const SeatStatisticsOptions& options);

  void to_game(Instant t, std::string_view bytes);
  // Witness lines in it are left out, as a board never sees them.
  void to_panel(Instant t, std::string_view bytes);
  // The board set an output. REQUIRES: a panel; places within it
  void output_set(Instant t, std::size_t output, std::size_t part, std::int64_t number);
  // A hand moves a part of a control (hand_parts() in kinds.h) to a place, or turns it by so much.
  // REQUIRES: a panel; places within it
  void hand_to(Instant t, std::size_t control, std::size_t hand_part, std::int64_t to_ppm,
               Duration duration);
  void hand_turned(Instant t, std::size_t control, std::int64_t by_ppm, Duration duration);
  void port_opened(Instant t);
  void port_closed(Instant t);
  // What the game set; counts where no panel says it. baud 0: not set.
  void line_settings(std::int64_t baud, int stop_bits);
  void panel_read(Instant t, std::shared_ptr<const Panel> panel);

  // `now`: not before the last event.
  [[nodiscard]] SeatFigures figures(Instant now) const;

  // For charts, in the order of figures().
  [[nodiscard]] const std::vector<Trace>& field_traces() const { return field_traces_; }
  // Each line is a number in it: only counts say something.
  [[nodiscard]] const Trace& line_trace(Direction direction) const {
    return direction == Direction::kToGame ? to_game_lines_ : to_panel_lines_;
  }
  // Milliseconds. REQUIRES: answer < figures().answers.size()
  [[nodiscard]] const Trace& latency_trace(std::size_t answer) const {
    return game_answers_->trace(answer);
  }
  [[nodiscard]] const std::shared_ptr<const Panel>& panel() const { return options_.panel; }

 private:
  // Lamps by their place among the outputs; null where it is none.
  using Lamps = std::vector<std::unique_ptr<LampStatistics>>;
  void take_panel();
  void take_to_game(const MeasuredLine& line);
  void take_to_panel(const MeasuredLine& line);
  void ask(Instant t, std::size_t control, std::string_view part, std::int64_t by_ppm,
           Duration duration);
  void interrupt();
  bool asks_for(std::span<const std::int64_t> numbers);

  SeatStatisticsOptions options_;
  DirectionStatistics to_game_;
  DirectionStatistics to_panel_;
  protocol::WitnessSieve sieve_;
  std::string sieved_;
  std::vector<ControlStatistics> fields_;
  std::vector<Trace> field_traces_;
  Trace to_game_lines_;
  Trace to_panel_lines_;
  std::optional<AnswerStatistics> game_answers_;
  std::optional<AnswerStatistics> shown_answers_;
  std::vector<std::uint16_t> asked_fields_;  // what both look for, and its last numbers
  std::vector<std::int64_t> asked_numbers_;
  bool asked_known_ = false;
  Lamps told_lamps_;                         // by the lines
  Lamps shown_lamps_;                        // by what the board set
  std::vector<std::int64_t> shown_numbers_;  // in the order of Panel::to_panel_fields
  bool saw_outputs_ = false;
  std::vector<std::vector<std::int64_t>> hand_places_;  // of each control's hand parts
  Instant first_at_{-1};
  std::optional<Instant> anew_since_;
  std::int64_t opened_ = 0;
};

// How a field's numbers are to be understood.
ControlStatisticsOptions promised_by(const Panel& panel, std::size_t field);

}  // namespace understudy
