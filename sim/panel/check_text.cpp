// Lays a check report out: no numbers are worked out here.
#include "sim/panel/check_text.h"

#include <fmt/format.h>

#include <algorithm>

#include "sim/base/text.h"
#include "sim/base/units.h"
#include "sim/panel/pins.h"

namespace understudy {
namespace {

constexpr std::size_t kColumns = 96;

std::string milliamperes(std::int64_t ua) {
  return fmt::format("{:.1f} mA", static_cast<double>(ua) / 1'000);
}

std::string milliseconds_of(Duration d) {
  const double ms = static_cast<double>(d.ns) / 1e6;
  return ms < 10 ? fmt::format("{:.2f} ms", ms) : fmt::format("{:.1f} ms", ms);
}

std::string volts(std::int64_t uv) {
  return write_quantity(uv, Unit::kVoltage);
}

std::string ohms(std::int64_t mohm) {
  return write_quantity(mohm, Unit::kResistance);
}

template <class Rows, class Text>
std::size_t widest(const Rows& rows, Text text) {
  std::size_t width = 0;
  for (const auto& row : rows) width = std::max(width, std::string(text(row)).size());
  return width;
}

std::string pins_text(const CheckReport& report) {
  std::string text = fmt::format("\nPins of the {} at {}\n", report.chip, volts(report.supply_uv));
  const std::size_t width = widest(report.pins, [](const PinRow& row) { return row.part; });
  for (const PinRow& row : report.pins)
    text += fmt::format("  {:<4} {:<{}}  {}\n", row.pin.empty() ? "-" : row.pin, row.part, width,
                        row.kind);
  return text;
}

// What to buy: the smallest resistor of the usual series (E12), and of the finer one (E24) where
// that has one nearer.
std::string least_resistor(const LampRow& row) {
  if (row.advised_e12_mohm == 0) return "stays dark";
  const std::string text = "its resistor: at least " + ohms(row.advised_e12_mohm);
  if (row.advised_e24_mohm == row.advised_e12_mohm) return text;
  return text + ", or " + ohms(row.advised_e24_mohm) + " of the E24 series";
}

std::string lamps_text(const CheckReport& report) {
  const std::vector<LampRow>& lamps = report.currents.lamps;
  if (lamps.empty()) return "";
  std::string text = fmt::format(
      "\nLamps at full: a pin should carry at most {}, and never more "
      "than {}\n",
      milliamperes(report.pin_advised_ua), milliamperes(report.pin_limit_ua));
  const std::size_t name = widest(lamps, [](const LampRow& row) { return row.name; });
  const std::size_t value =
      widest(lamps, [](const LampRow& row) { return ohms(row.resistor_mohm); });
  for (const LampRow& row : lamps) {
    text += fmt::format("  {:<{}}  {:<6}  {:>5}  {:>{}}  {:>7}   {}\n", row.name, name, row.colour,
                        volts(row.forward_uv), ohms(row.resistor_mohm), value,
                        milliamperes(row.current_ua), least_resistor(row));
  }
  return text;
}

std::string others_text(const Currents& currents) {
  if (currents.others.empty()) return "";
  std::string text = "\nOther outputs at work\n";
  const std::size_t name = widest(currents.others, [](const DrawRow& row) { return row.name; });
  const std::size_t kind = widest(currents.others, [](const DrawRow& row) { return row.kind; });
  for (const DrawRow& row : currents.others)
    text += fmt::format("  {:<{}}  {:<{}}  {:>8}   {}\n", row.name, name, row.kind, kind,
                        milliamperes(row.current_ua),
                        row.pin.empty() ? "from the supply" : "from pin " + row.pin);
  return text;
}

std::string sums_text(const Currents& currents) {
  if (currents.lamps.empty() && currents.others.empty()) return "";
  std::string text;
  for (const GroupRow& row : currents.groups)
    text += fmt::format("  pins {} together {} {}; they may {} at most {}\n", pin_runs(row.pins),
                        row.sinks ? "take" : "give", milliamperes(row.used_ua),
                        row.sinks ? "take" : "give", milliamperes(row.limit_ua));
  text += fmt::format("  the whole chip carries {}; it may carry at most {}\n",
                      milliamperes(currents.chip_ua), milliamperes(currents.chip_limit_ua));
  text += fmt::format("  the supply gives {} with what the board itself needs; at most {}\n",
                      milliamperes(currents.supply_ua), milliamperes(currents.supply_limit_ua));
  return text;
}

std::string to_game_text(const Rates& rates) {
  if (rates.to_game.empty()) return "";
  std::string text = "\nLines to the game\n";
  for (const LineRow& row : rates.to_game) {
    text += fmt::format("  {}\n", printable(row.text));
    if (row.interval.ns == 0) {
      text += fmt::format("    {}: at most {} bytes\n", row.when, row.bytes_max);
      continue;
    }
    text += fmt::format("    {}: at most {} bytes, {:.1f} lines/s\n", row.when, row.bytes_max,
                        1e9 / static_cast<double>(row.interval.ns));
  }
  text += fmt::format("  one round of the loop takes {}, {} of it reading and work\n",
                      milliseconds_of(rates.loop), milliseconds_of(rates.reading));
  text += fmt::format("  the wire carries {} of {} bytes/s ({} %)\n", rates.to_game_bytes_a_second,
                      rates.wire_bytes_a_second,
                      (rates.to_game_bytes_a_second * 100 + rates.wire_bytes_a_second - 1) /
                          rates.wire_bytes_a_second);
  if (rates.age_max.ns > 0)
    text += fmt::format(
        "  an input is at most {} old when the game can read it (round, line and "
        "flush)\n",
        milliseconds_of(rates.age_max));
  return text;
}

std::string to_panel_text(const Rates& rates) {
  if (rates.to_panel.empty()) return "";
  std::string text = "\nLines to the panel\n";
  std::int64_t longest = 0;
  for (const LineRow& row : rates.to_panel) {
    text += fmt::format("  {}\n    at most {} bytes\n", printable(row.text), row.bytes_max);
    longest = std::max(longest, row.bytes_max);
  }
  text +=
      fmt::format("  the wire carries {} lines/s; 60 a second take {} of {} bytes/s ({} %)\n",
                  rates.to_panel_lines_a_second, 60 * longest, rates.wire_bytes_a_second,
                  (60 * longest * 100 + rates.wire_bytes_a_second - 1) / rates.wire_bytes_a_second);
  return text;
}

// Words of `text` in lines of kColumns, all but the first one moved in by `indent`.
std::string wrapped(const std::string& text, std::size_t indent) {
  std::string out;
  std::size_t column = indent;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find(' ', at), text.size());
    const std::size_t size = end - at;
    if (!out.empty()) {
      const bool fits = column + 1 + size <= kColumns;
      out += fits ? " " : "\n" + std::string(indent, ' ');
      column = fits ? column + 1 : indent;
    }
    out += text.substr(at, size);
    column += size;
    at = end + 1;
  }
  return out + "\n";
}

std::string remarks_text(const CheckReport& report) {
  static constexpr const char* kNames[] = {"note", "hint", "warning", "wrong"};
  std::string text;
  for (const Remark& remark : report.remarks) {
    std::string line = remark.about + ": " + remark.text;
    if (!remark.remedy.empty()) line += "; " + remark.remedy;
    text += fmt::format("  {:<8} ", kNames[static_cast<int>(remark.severity)]) + wrapped(line, 11);
  }
  return text.empty() ? "" : "\nRemarks\n" + text;
}

std::string verdict_of(const CheckReport& report) {
  int counts[4] = {0, 0, 0, 0};
  for (const Remark& remark : report.remarks) ++counts[static_cast<int>(remark.severity)];
  const auto counted = [](int n, const char* what) {
    return fmt::format("{} {}{}", n, what, n == 1 ? "" : "s");
  };
  const auto of = [&](Severity severity) { return counts[static_cast<int>(severity)]; };
  std::string text =
      of(Severity::kWrong) > 0 ? fmt::format("{} wrong", of(Severity::kWrong)) : "right";
  if (of(Severity::kWarning) > 0) text += ", " + counted(of(Severity::kWarning), "warning");
  if (of(Severity::kHint) > 0) text += ", " + counted(of(Severity::kHint), "hint");
  return text;
}

}  // namespace

std::string_view check_caution() {
  return "Caution: currents are worked out from the file, not measured. Check parts and wiring "
         "before power is on; solder with ventilation and eye protection. Local rules and "
         "qualified people decide.";
}

std::string written(const CheckReport& report) {
  return fmt::format("{} ({}): {}\n", report.name, report.file_name, verdict_of(report)) +
         pins_text(report) + lamps_text(report) + others_text(report.currents) +
         sums_text(report.currents) + to_game_text(report.rates) + to_panel_text(report.rates) +
         remarks_text(report) + "\n" + wrapped(std::string(check_caution()), 0);
}

}  // namespace understudy
