// The page from top to bottom.
#include "sim/measure/report_page.h"

#include <fmt/format.h>

#include <algorithm>

#include "sim/base/text.h"
#include "sim/measure/comparison.h"
#include "sim/measure/page_parts.h"
#include "sim/measure/report_words.h"

namespace understudy {
namespace {

constexpr std::size_t kSpansMost = 12'288;
constexpr std::size_t kSpansLeast = 1'024;
constexpr std::size_t kInks = 8;

std::string count(std::int64_t number) {
  return std::to_string(number);
}
std::string count(const std::optional<std::int64_t>& number) {
  return number ? std::to_string(*number) : "-";
}

std::string card(std::string_view heading, const std::string& inside) {
  if (inside.empty()) return "";
  return fmt::format("<section class=\"card\"><h3>{}</h3>\n{}</section>\n", heading, inside);
}

std::string chart_place(const std::string& id, const std::string& name, const std::string& words,
                        std::size_t ink, const char* size) {
  return fmt::format(
      "<figure class=\"chart {} ink{}\" data-chart=\"{}\"><figcaption><b>{}</b>"
      "<span class=\"read\"></span><span class=\"words\">{}</span></figcaption>"
      "<div class=\"strip\"></div></figure>\n",
      size, ink % kInks, id, in_html(name), in_html(words));
}

std::string words_of(const FieldFigures& field) {
  const ControlFigures& f = field.figures;
  if (f.verdict != ControlVerdict::kUsed) return verdict_in_words(field);
  std::string words = f.span_share ? percent_in_words(f.span_share) + " of its span" : "";
  if (f.rest.effective_bits)
    words += fmt::format(", {} bits at rest", number_in_words(f.rest.effective_bits, 2));
  if (field.promised.way == FieldWay::kContact)
    words = fmt::format("{} {}", f.contact.presses, f.contact.presses == 1 ? "press" : "presses");
  if (field.promised.way == FieldWay::kPlaces || field.promised.way == FieldWay::kCounts)
    words = fmt::format("{} changes", f.changes);
  return words;
}

std::string control_charts(const SeatFigures& seat) {
  std::string charts;
  for (std::size_t i = 0; i < seat.fields.size(); ++i) {
    const bool contact = seat.fields[i].promised.way == FieldWay::kContact;
    charts += chart_place("c" + std::to_string(i), seat.fields[i].name, words_of(seat.fields[i]), i,
                          contact ? "low" : "");
  }
  if (charts.empty()) return "";
  return "<p class=\"hint\">Drag across a chart to see a part, turn the wheel to come nearer, "
         "double "
         "click for all. Each column shows the least and the greatest number in it.</p>\n" +
         charts;
}

std::string slides_table(const SeatFigures& seat) {
  PageTable table = {{"what slides", "promised", "seen", "span", "noise RMS", "peak to peak",
                      "effective bits", "drift a minute", "jumps", ""},
                     {},
                     "words-last"};
  for (const FieldFigures& field : seat.fields) {
    if (field.promised.way != FieldWay::kSlides) continue;
    const ControlFigures& f = field.figures;
    table.rows.push_back({in_html(field.name),
                          fmt::format("{}..{}", field.promised.low, field.promised.high),
                          f.least ? fmt::format("{}..{}", *f.least, *f.most) : "-",
                          percent_in_words(f.span_share), number_in_words(f.rest.rms, 2),
                          count(f.rest.peak_to_peak), number_in_words(f.rest.effective_bits, 2),
                          drift_in_words(f.rest), count(f.jumps), std::string(word_of(f.verdict))});
  }
  return html_of(table);
}

std::string contacts_table(const SeatFigures& seat) {
  PageTable table = {{"contacts", "presses", "shortest", "median", "longest", "bounces",
                      "bounce, median", "bounce, longest", ""},
                     {},
                     "words-last"};
  for (const FieldFigures& field : seat.fields) {
    if (field.promised.way != FieldWay::kContact) continue;
    const ContactFigures& f = field.figures.contact;
    table.rows.push_back({in_html(field.name), count(f.presses), time_in_words(f.press_least),
                          time_in_words(f.press_median), time_in_words(f.press_most),
                          count(f.bounces), time_in_words(f.bounce_median),
                          time_in_words(f.bounce_most),
                          std::string(word_of(field.figures.verdict))});
  }
  return html_of(table);
}

std::string controls_card(const SeatFigures& seat) {
  return card("Controls", control_charts(seat) + slides_table(seat) + contacts_table(seat));
}

std::string traffic_card(const SeatFigures& seat) {
  const DirectionFigures& game = seat.to_game;
  const DirectionFigures& panel = seat.to_panel;
  PageTable table = {{"", "to the game", "to the panel"}, {}, "narrow"};
  const auto row = [&](const std::string& name, auto of) {
    table.rows.push_back({name, of(game), of(panel)});
  };
  using Figures = const DirectionFigures&;
  const auto told = [](Figures f, std::int64_t number) { return f.told ? count(number) : "-"; };
  row("lines", [](Figures f) { return count(f.lines); });
  row("bytes", [](Figures f) { return count(f.bytes); });
  row("lines a second: least, median, most", [](Figures f) {
    return f.rate_median ? fmt::format("{}, {}, {}", *f.rate_least, *f.rate_median, *f.rate_most)
                         : "-";
  });
  row("gap: median, 99th", [](Figures f) {
    return f.gap_median ? time_in_words(f.gap_median) + ", " + time_in_words(f.gap_99) : "-";
  });
  row("longest gap", [](Figures f) {
    return f.gap_longest ? fmt::format("{} at {}", time_in_words(f.gap_longest),
                                       moment_in_words(f.gap_longest_at))
                         : "-";
  });
  row("gaps above " + time_in_words(game.gap_bound),
      [](Figures f) { return count(f.gaps_over_bound); });
  row("torn", [](Figures f) { return count(f.torn); });
  row("malformed", [&](Figures f) { return told(f, f.malformed); });
  row("unknown", [&](Figures f) { return told(f, f.unknown); });
  row("check errors", [&](Figures f) { return told(f, f.check_errors); });
  if (game.duplicates || panel.duplicates)
    row("duplicates, missing",
        [](Figures f) { return count(f.duplicates) + ", " + count(f.missing); });
  row("lines that change nothing", [](Figures f) { return percent_in_words(redundant_share(f)); });
  row("share of the wire, busiest second", [](Figures f) {
    return f.wire_share
               ? percent_in_words(f.wire_share) + ", " + percent_in_words(f.wire_share_busiest)
               : "-";
  });
  return card("Traffic", chart_place("g", "lines a second to the game", "", 0, "low") +
                             chart_place("p", "lines a second to the panel", "", 1, "low") +
                             html_of(table));
}

std::string answers_table(const char* title, const std::vector<AnswerFigures>& answers) {
  PageTable table = {
      {title, "presses", "median", "95th", "worst", "promised", "late", "missed"}, {}, ""};
  for (const AnswerFigures& answer : answers)
    table.rows.push_back({in_html(answer.when + ": " + answer.expect), count(answer.presses),
                          time_in_words(answer.latency.median),
                          time_in_words(answer.latency.percentile_95),
                          time_in_words(answer.latency.worst), time_in_words(answer.within),
                          count(answer.late), count(answer.missed)});
  return html_of(table);
}

std::string answers_card(const SeatFigures& seat) {
  std::string inside;
  for (std::size_t i = 0; i < seat.answers.size(); ++i)
    if (seat.answers[i].latency.count > 0)
      inside +=
          chart_place("a" + std::to_string(i), seat.answers[i].when + ": " + seat.answers[i].expect,
                      "milliseconds from press to answer", 2 + i, "");
  inside += answers_table("from press to answer", seat.answers);
  inside += answers_table("from press to output", seat.shown);
  PageTable pairs = {{"pairs found", "presses", "answered", "median", "95th", "worst"}, {}, ""};
  for (const PairFigures& pair : seat.pairs)
    pairs.rows.push_back(
        {in_html(pair.when + ": " + pair.expect + (pair.written ? " (written)" : "")),
         count(pair.presses), count(pair.latency.count), time_in_words(pair.latency.median),
         time_in_words(pair.latency.percentile_95), time_in_words(pair.latency.worst)});
  inside += html_of(pairs);
  const std::string proposed = proposed_answers(seat.pairs);
  if (!proposed.empty())
    inside += "<p class=\"leads\">For the panel file, if they are meant:</p>\n<pre>" +
              in_html(proposed) + "</pre>\n";
  return card("Answers", inside);
}

std::string lamps_card(const SeatFigures& seat) {
  PageTable table = {{"lamp", "changes", "most flashes in a second"}, {}, "narrow"};
  for (const LampReport& lamp : seat.lamps)
    table.rows.push_back(
        {in_html(lamp.name), count(lamp.figures.changes),
         fmt::format("<span class=\"{}\">{}</span>", lamp.figures.cautions() ? "wrong" : "",
                     lamp.figures.flashes_most)});
  return card("Lamps", html_of(table));
}

std::string seat_part(const Measurement& measured, const MeasuredSeat& seat) {
  const SeatFigures figures = seat.statistics.figures(measured.last_at);
  std::string part =
      fmt::format("<article class=\"seat\"><h2>{}{}</h2>\n", in_html(seat.name),
                  figures.has_panel ? " <small>" + in_html(figures.panel) + "</small>"
                                    : " <small>no panel: raw lines alone</small>");
  for (const std::string& caution : flash_cautions(figures))
    part += "<p class=\"caution\">Caution: " + in_html(caution) + ".</p>\n";
  if (figures.anew_since)
    part += "<p>The panel was read anew at " + moment_in_words(figures.anew_since) +
            "; controls, answers and lamps are since then.</p>\n";
  part += "<div class=\"cards\">" + controls_card(figures) + traffic_card(figures) +
          answers_card(figures) + lamps_card(figures) + "</div>\n";
  return part + "<script type=\"application/json\" class=\"data\">" +
         chart_data(measured, seat, figures) + "</script></article>\n";
}

std::string recording_part(const Measurement& measured) {
  std::string facts = time_in_words(measured.length()) + " long";
  if (!measured.start.empty()) facts += ", made " + in_html(measured.start);
  if (!measured.program.empty()) facts += " by " + in_html(measured.program);
  std::string part = fmt::format("<header class=\"recording\"><h1>{}</h1><p>{}, {} events</p>",
                                 in_html(short_name(measured.file)), facts, measured.events);
  for (const std::string& remark : remarks_on(measured))
    part += "<p class=\"remark\">" + in_html(remark) + "</p>";
  for (const MeasuredMark& mark : measured.marks)
    part += fmt::format("<p>Mark at {}: {}</p>", moment_in_words(mark.at), in_html(mark.text));
  part += "</header>\n";
  for (const MeasuredSeat& seat : measured.seats) part += seat_part(measured, seat);
  return part;
}

std::string comparison_part(std::span<const Measurement> measured) {
  std::string part = "<header class=\"recording\"><h1>Side by side</h1></header>\n";
  for (const Comparison& seat : compared(measured)) {
    PageTable table = {{""}, {}, "compared"};
    for (const Measurement& one : measured) table.headings.push_back(in_html(short_name(one.file)));
    std::string heading;
    for (const ComparisonRow& row : seat.rows) {
      if (row.heading != heading) table.rows.push_back({"<b>" + in_html(row.heading) + "</b>"});
      heading = row.heading;
      std::vector<std::string> cells = {in_html(row.figure)};
      for (const std::string& value : row.values) cells.push_back(in_html(value));
      table.rows.push_back(std::move(cells));
    }
    part += card(in_html(seat.seat), html_of(table));
  }
  return part;
}

}  // namespace

std::size_t page_spans_max(std::size_t recordings) {
  return std::max(kSpansLeast, kSpansMost / std::max<std::size_t>(recordings, 1));
}

std::string in_html(std::string_view text) {
  const std::string shown = is_valid_utf8(text) ? std::string(text) : printable(text);
  std::string html;
  for (const char c : shown) {
    if (c == '<')
      html += "&lt;";
    else if (c == '>')
      html += "&gt;";
    else if (c == '&')
      html += "&amp;";
    else if (c == '"')
      html += "&quot;";
    else
      html += c;
  }
  return html;
}

std::string html_of(const PageTable& table) {
  if (table.rows.empty()) return "";
  std::string html = "<div class=\"wide\"><table class=\"" + table.classes + "\"><thead><tr>";
  for (const std::string& heading : table.headings) html += "<th>" + heading + "</th>";
  html += "</tr></thead><tbody>\n";
  for (const auto& row : table.rows) {
    html += "<tr>";
    const bool heads = row.size() < table.headings.size();
    for (std::size_t i = 0; i < row.size(); ++i)
      html += i == 0
                  ? fmt::format("<th{}>{}</th>",
                                heads ? fmt::format(" colspan=\"{}\"", table.headings.size()) : "",
                                row[i])
                  : "<td>" + row[i] + "</td>";
    html += "</tr>\n";
  }
  return html + "</tbody></table></div>\n";
}

std::string measurements_page(std::span<const Measurement> measured) {
  std::string title = "What the recording says";
  if (measured.size() == 1) title = short_name(measured.front().file);
  if (measured.size() > 1) title = "Recordings side by side";
  std::string page =
      "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
      "<meta name=\"color-scheme\" content=\"light dark\">\n<title>" +
      in_html(title) + "</title>\n<style>" + std::string(kPageStyle) +
      "</style></head><body>\n<main>\n";
  if (measured.size() > 1) page += comparison_part(measured);
  for (const Measurement& one : measured) page += recording_part(one);
  page +=
      "<footer>Noise is told of the time at rest, in wire numbers (LSB); behind a drift stands its "
      "standard error; effective bits by IEEE "
      "1241. Latencies run from the line that shows the press to the line that shows the answer. "
      "Flashes are counted as in WCAG 2.2, 2.3.1: a caution, not a proof. Medians and 99ths of "
      "more than 4096 values are within 0.4 %.</footer>\n"
      "<noscript><p>The charts need scripts; the tables say the same in numbers.</p></noscript>\n"
      "</main>\n<script>" +
      std::string(kPageScript) + "</script></body></html>\n";
  return page;
}

}  // namespace understudy
