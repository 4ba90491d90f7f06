// Words for counts; the counts are the observer's, the device's and the links'.
#include "sim/window/link_words.h"

#include <fmt/format.h>

#include "sim/link/holders.h"

namespace understudy {
namespace {

LinkFact speed_fact(const Device& device) {
  const PanelDescription& panel = device.panel().description;
  if (panel.wire.kind == WireKind::kNativeUsb)
    return {"Speed", "native USB, whatever is asked for"};
  if (device.game_baud() == 0)
    return {"Speed", fmt::format("the panel speaks at {} baud", panel.wire.baud)};
  if (!device.baud_readable())
    return {
        "Speed",
        fmt::format("the game asked for {} baud, but the panel speaks at {}: each reads nonsense",
                    device.game_baud(), panel.wire.baud),
        Tone::kCaution};
  return {"Speed",
          fmt::format("{} baud asked for, {} spoken", device.game_baud(), panel.wire.baud)};
}

LinkFact dtr_fact(const Device& device) {
  const DtrMeans means = device.panel().description.host.dtr;
  std::string text = device.dtr() ? "raised" : "low";
  if (means == DtrMeans::kRestarts) text += "; raising it restarts the board";
  if (means == DtrMeans::kOpensGate && !device.dtr())
    return {"DTR", text + "; the board says nothing until it is raised", Tone::kCaution};
  return {"DTR", text};
}

std::string rate_text(const Traffic& traffic, Instant now) {
  return fmt::format("{:.0f} lines/s, {:.0f} bytes/s", traffic.lines_per_second(now),
                     traffic.bytes_per_second(now));
}

LinkFact age_fact(const Observer& observer, Instant now) {
  if (observer.takes_at_once()) return {"Input age", "cannot be seen on this link"};
  const std::int64_t ms = observer.input_age(now).ns / 1'000'000;
  const Tone tone = ms > 250 ? Tone::kCaution : Tone::kPlain;
  std::string text = fmt::format("{} ms", ms);
  if (observer.unread_bytes() > 0)
    text += fmt::format(", {} bytes unread", observer.unread_bytes());
  return {"Input age", text, tone};
}

// Bytes that nobody was there to hear, or that were left unread at a close, are no trouble: a real
// port drops them too. They are told, after the others and without alarm.
LinkFact loss_fact(const SeatView& seat) {
  const DeviceCounts counts = seat.device.counts();
  std::string trouble;
  std::string usual;
  const auto add = [](std::string& text, std::uint64_t count, std::string_view why) {
    if (count > 0) text += fmt::format("{}{} {}", text.empty() ? "" : "; ", count, why);
  };
  const auto of = [](std::int64_t count) { return static_cast<std::uint64_t>(count); };
  add(trouble, of(counts.host.dropped_full), "to the game, its buffer was full");
  add(trouble, of(counts.receive.overrun), "to the panel, the board's receive ring was full");
  add(trouble, of(counts.receive.lost_in_boot), "to the panel while the board was starting");
  add(trouble, of(counts.write_dropped), "to the panel, written faster than the wire carries");
  add(trouble, of(counts.frame_errors_to_game), "to the game with a framing error");
  add(trouble, of(counts.frame_errors_to_panel), "to the panel with a framing error");
  for (const LinkView& link : seat.links) {
    for (std::size_t i = 0; i < kDropReasonCount; ++i) {
      const auto reason = static_cast<DropReason>(i);
      const bool common = reason == DropReason::kNobodyOpen || reason == DropReason::kUnreadAtClose;
      add(common ? usual : trouble, link.counts.dropped[i], name_of(reason));
    }
  }
  if (trouble.empty() && usual.empty()) return {"Bytes lost", "none"};
  const Tone tone = trouble.empty() ? Tone::kPlain : Tone::kCaution;
  return {"Bytes lost", trouble + (trouble.empty() || usual.empty() ? "" : "; ") + usual, tone};
}

}  // namespace

std::string link_kind(const LinkView& link) {
  if (link.name == "pty") return "pseudo-terminal";
  if (link.name == "tcp") return "TCP";
  if (link.name == "serial") return "serial port";
  return link.name;
}

std::string game_at(const LinkView& link) {
  if (link.name == "pty") return written(holders_of_path(link.where));
  // Beyond a cable nobody is to be seen.
  const FarEnd& end = link.far_end;
  if (end.place.empty()) return "a game";
  const auto holders = end.socket != 0 ? holders_of_socket(end.socket) : std::vector<Holder>{};
  return holders.empty() ? end.place : written(holders) + " from " + end.place;
}

std::vector<LinkFact> link_facts(const SeatView& seat, Instant now) {
  std::vector<LinkFact> facts = {speed_fact(seat.device)};
  if (seat.observer.connected()) {
    facts.push_back(dtr_fact(seat.device));
    facts.push_back({"To the game", rate_text(seat.observer.traffic_to_game(), now)});
    facts.push_back({"To the panel", rate_text(seat.observer.traffic_to_panel(), now)});
    facts.push_back(age_fact(seat.observer, now));
  }
  facts.push_back(loss_fact(seat));
  return facts;
}

}  // namespace understudy
