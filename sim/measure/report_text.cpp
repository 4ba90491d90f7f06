// Sections of one recording, and the comparison of several.
#include "sim/measure/report_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "sim/measure/comparison.h"
#include "sim/measure/report_words.h"
#include "sim/measure/text_table.h"

namespace understudy {
namespace {

constexpr std::size_t kColumns = 100;
constexpr std::size_t kColumnsCompared = 4;
constexpr std::size_t kNameBytesMax = 16;

std::string count(std::int64_t number) {
  return std::to_string(number);
}
std::string count(const std::optional<std::int64_t>& number) {
  return number ? std::to_string(*number) : "-";
}

std::string range(std::int64_t low, std::int64_t high) {
  return fmt::format("{}..{}", low, high);
}

std::string seen(const ControlFigures& figures) {
  return figures.least ? range(*figures.least, *figures.most) : "-";
}

// What is less than two standard errors is no drift.
std::string drift_text(const RestFigures& figures) {
  if (!figures.drift_per_minute || !figures.drift_error) return "-";
  if (std::abs(*figures.drift_per_minute) < 2 * *figures.drift_error) return "none";
  return fmt::format("{:+.2f}", *figures.drift_per_minute);
}

// A sentence after `lead`, broken into lines of at most 100 columns.
std::string paragraph(std::string_view lead, const std::string& sentence) {
  std::string text;
  std::string line(lead);
  for (std::size_t at = 0; at < sentence.size();) {
    const std::size_t end = std::min(sentence.find(' ', at), sentence.size());
    const std::string word = sentence.substr(at, end - at);
    if (line.size() + word.size() + 1 > kColumns) {
      text += line + "\n";
      line = std::string(4, ' ') + word;
    } else {
      line += (line.ends_with(' ') ? "" : " ") + word;
    }
    at = end + 1;
  }
  return text + line + "\n";
}

std::string slides_text(const SeatFigures& seat) {
  TextTable table({"what slides", "promised", "seen", "span", "noise", "peak", "bits", "drift/min",
                   "jumps", ""});
  for (const FieldFigures& field : seat.fields) {
    if (field.promised.way != FieldWay::kSlides) continue;
    const ControlFigures& f = field.figures;
    table.add({field.name, range(field.promised.low, field.promised.high), seen(f),
               percent_in_words(f.span_share), number_in_words(f.rest.rms, 2),
               count(f.rest.peak_to_peak), number_in_words(f.rest.effective_bits, 2),
               drift_text(f.rest), count(f.jumps), std::string(word_of(f.verdict))});
  }
  return table.empty() ? "" : table.text(true) + "\n";
}

std::string contacts_text(const SeatFigures& seat) {
  TextTable table(
      {"contacts", "presses", "shortest", "median", "longest", "bounces", "median", "longest", ""});
  for (const FieldFigures& field : seat.fields) {
    if (field.promised.way != FieldWay::kContact) continue;
    const ContactFigures& f = field.figures.contact;
    table.add({field.name, count(f.presses), time_in_words(f.press_least),
               time_in_words(f.press_median), time_in_words(f.press_most), count(f.bounces),
               time_in_words(f.bounce_median), time_in_words(f.bounce_most),
               std::string(word_of(field.figures.verdict))});
  }
  return table.empty() ? "" : table.text(true) + "\n";
}

std::string others_text(const SeatFigures& seat) {
  TextTable table({"selectors, encoders", "promised", "seen", "changes", ""});
  for (const FieldFigures& field : seat.fields) {
    if (field.promised.way != FieldWay::kPlaces && field.promised.way != FieldWay::kCounts)
      continue;
    table.add({field.name, range(field.promised.low, field.promised.high), seen(field.figures),
               count(field.figures.changes), std::string(word_of(field.figures.verdict))});
  }
  return table.empty() ? "" : table.text(true) + "\n";
}

// What a word in a table does not say.
std::string notes_text(const SeatFigures& seat) {
  std::string text;
  for (const FieldFigures& field : seat.fields) {
    const ControlFigures& f = field.figures;
    const bool plain =
        f.verdict == ControlVerdict::kUsed || f.verdict == ControlVerdict::kNeverUsed;
    if (!plain) text += paragraph("  " + field.name + ":", verdict_in_words(field));
    if (f.out_of_range > 0)
      text += fmt::format("  {}: {} changes led beyond the promised range\n", field.name,
                          f.out_of_range);
    for (std::size_t i = 0; i < std::min<std::size_t>(f.first_jumps.size(), 3); ++i) {
      const Jump& jump = f.first_jumps[i];
      text += fmt::format("  {}: jumped from {} to {} and back, for {} at {}\n", field.name,
                          jump.from, jump.to, time_in_words(jump.length), moment_in_words(jump.at));
    }
  }
  return text.empty() ? "" : text + "\n";
}

std::string directions_text(const SeatFigures& seat) {
  TextTable table({"traffic", "to the game", "to the panel"});
  const DirectionFigures& game = seat.to_game;
  const DirectionFigures& panel = seat.to_panel;
  const auto row = [&](const char* name, auto of) { table.add({name, of(game), of(panel)}); };
  using Figures = const DirectionFigures&;
  const auto told = [](Figures f, std::int64_t number) { return f.told ? count(number) : "-"; };
  row("bytes", [](Figures f) { return count(f.bytes); });
  row("lines", [](Figures f) { return count(f.lines); });
  row("lines/s, least", [](Figures f) { return count(f.rate_least); });
  row("lines/s, median", [](Figures f) { return count(f.rate_median); });
  row("lines/s, most", [](Figures f) { return count(f.rate_most); });
  row("gap, median", [](Figures f) { return time_in_words(f.gap_median); });
  row("gap, 99 of 100 below", [](Figures f) { return time_in_words(f.gap_99); });
  row("gap, longest", [](Figures f) { return time_in_words(f.gap_longest); });
  row("  which began at", [](Figures f) { return moment_in_words(f.gap_longest_at); });
  const std::string above = "gaps above " + time_in_words(game.gap_bound);
  row(above.c_str(), [](Figures f) { return count(f.gaps_over_bound); });
  row("torn", [](Figures f) { return count(f.torn); });
  row("malformed", [&](Figures f) { return told(f, f.malformed); });
  row("unknown", [&](Figures f) { return told(f, f.unknown); });
  row("check errors", [&](Figures f) { return told(f, f.check_errors); });
  if (game.too_long + panel.too_long + game.stray + panel.stray > 0)
    row("too long, stray", [](Figures f) { return count(f.too_long + f.stray); });
  if (game.duplicates || panel.duplicates) {
    row("duplicates", [](Figures f) { return count(f.duplicates); });
    row("missing", [](Figures f) { return count(f.missing); });
  }
  row("change nothing", [](Figures f) { return percent_in_words(redundant_share(f)); });
  row("share of the wire", [](Figures f) { return percent_in_words(f.wire_share); });
  row("  busiest second", [](Figures f) { return percent_in_words(f.wire_share_busiest); });
  return table.text() + "\n";
}

std::string first_wrong_text(const char* direction, const DirectionFigures& figures) {
  if (figures.first_wrong.empty()) return "";
  std::string text = paragraph("  the first line", fmt::format("{} that was not read: \"{}\"",
                                                               direction, figures.first_wrong));
  if (!figures.first_wrong_why.empty()) text += paragraph("   ", figures.first_wrong_why);
  return text;
}

std::string answers_table(const char* title, const std::vector<AnswerFigures>& answers) {
  TextTable table({title, "presses", "median", "95th", "worst", "promised", "late", "missed"});
  for (const AnswerFigures& answer : answers)
    table.add({answer.when + ": " + answer.expect, count(answer.presses),
               time_in_words(answer.latency.median), time_in_words(answer.latency.percentile_95),
               time_in_words(answer.latency.worst), time_in_words(answer.within),
               count(answer.late), count(answer.missed)});
  return table.empty() ? "" : table.text() + "\n";
}

std::string pairs_text(const SeatFigures& seat) {
  TextTable table({"pairs found", "presses", "answered", "median", "95th", "worst"});
  for (const PairFigures& pair : seat.pairs)
    table.add({pair.when + ": " + pair.expect + (pair.written ? " (written)" : ""),
               count(pair.presses), count(pair.latency.count), time_in_words(pair.latency.median),
               time_in_words(pair.latency.percentile_95), time_in_words(pair.latency.worst)});
  if (table.empty()) return "";
  const std::string proposed = proposed_answers(seat.pairs);
  if (proposed.empty()) return table.text() + "\n";
  return table.text() + "\n  for the panel file, if they are meant:\n\n" + proposed + "\n";
}

std::string lamps_text(const SeatFigures& seat) {
  TextTable table({"lamps", "changes", "most flashes in a second"});
  for (const LampReport& lamp : seat.lamps)
    table.add({lamp.name, count(lamp.figures.changes), count(lamp.figures.flashes_most)});
  std::string text = table.empty() ? "" : table.text() + "\n";
  for (const std::string& caution : flash_cautions(seat)) text += paragraph("  caution:", caution);
  return text;
}

// Names of a file that somebody sent may hold anything; nothing of it shall move a terminal.
std::string calm(std::string text) {
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto byte = static_cast<unsigned char>(text[i]);
    const bool second = i > 0 && text[i - 1] == '\xc2' && byte >= 0x80 && byte < 0xa0;
    if ((byte < 0x20 && byte != '\n') || byte == 0x7f || second) text[i] = '?';
  }
  return text;
}

std::string seat_text(const std::string& name, const SeatFigures& seat) {
  std::string text =
      name + (seat.has_panel ? ", " + seat.panel : ", no panel: raw lines alone") + "\n";
  if (seat.anew_since)
    text += "  the panel was read anew at " + moment_in_words(seat.anew_since) +
            ": controls, answers and lamps are since then\n";
  text += "\n" + slides_text(seat) + contacts_text(seat) + others_text(seat) + notes_text(seat) +
          directions_text(seat);
  const std::string wrong = first_wrong_text("to the game", seat.to_game) +
                            first_wrong_text("to the panel", seat.to_panel);
  if (!wrong.empty()) text += wrong + "\n";
  return text + answers_table("from press to answer", seat.answers) +
         answers_table("from press to output", seat.shown) + pairs_text(seat) + lamps_text(seat);
}

}  // namespace

std::string measurement_text(const Measurement& measured) {
  std::string text = fmt::format("{}: {}, {} events\n", measured.file,
                                 time_in_words(measured.length()), measured.events);
  for (const std::string& remark : remarks_on(measured)) text += "  " + remark + "\n";
  for (const MeasuredSeat& seat : measured.seats)
    text += "\n" + seat_text(seat.name, seat.statistics.figures(measured.last_at));
  while (text.ends_with("\n\n")) text.pop_back();
  return calm(std::move(text));
}

std::string comparison_text(std::span<const Measurement> measured) {
  std::string text;
  for (const Comparison& seat : compared(measured)) {
    for (std::size_t first = 0; first < measured.size(); first += kColumnsCompared) {
      const std::size_t end = std::min(first + kColumnsCompared, measured.size());
      std::vector<std::string> headings = {seat.seat};
      for (std::size_t i = first; i < end; ++i)
        headings.push_back(short_name(measured[i].file).substr(0, kNameBytesMax));
      TextTable table(std::move(headings));
      std::string heading;
      for (const ComparisonRow& row : seat.rows) {
        if (row.heading != heading) table.add({row.heading});
        heading = row.heading;
        std::vector<std::string> cells = {"  " + row.figure};
        cells.insert(cells.end(), row.values.begin() + static_cast<std::ptrdiff_t>(first),
                     row.values.begin() + static_cast<std::ptrdiff_t>(end));
        table.add(std::move(cells));
      }
      text += (text.empty() ? "" : "\n") + table.text();
    }
  }
  return calm(std::move(text));
}

}  // namespace understudy
