// Sorts what is fed into what keeps it.
#include "sim/window/history.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "sim/base/units.h"

namespace understudy {
namespace {

std::vector<FieldCourse> courses_of(const Panel& panel) {
  std::vector<FieldCourse> courses;
  for (std::size_t i = 0; i < panel.to_game_fields.size(); ++i)
    courses.push_back({panel.to_game_fields[i].name, {.to_game = true, .field = i}, {}});
  for (std::size_t i = 0; i < panel.to_panel_fields.size(); ++i)
    courses.push_back({panel.to_panel_fields[i].name, {.to_game = false, .field = i}, {}});
  return courses;
}

// A panel that was read anew goes on with the courses of those fields that it still has.
void change_panel(SeatHistory& seat, const std::shared_ptr<const Panel>& panel) {
  std::vector<FieldCourse> courses = courses_of(*panel);
  for (FieldCourse& fresh : courses) {
    const auto old =
        std::find_if(seat.courses.begin(), seat.courses.end(), [&](const FieldCourse& it) {
          return it.name == fresh.name && it.place.to_game == fresh.place.to_game;
        });
    if (old != seat.courses.end()) fresh.course = std::move(old->course);
  }
  seat.courses = std::move(courses);
  seat.panel = panel;
  seat.flashes = FlashWatch(panel->description);
  seat.lines.begin_anew(panel);
}

template <class Item>
void put_bounded(std::deque<Item>& items, Item item, std::size_t most) {
  items.push_back(std::move(item));
  if (items.size() > most) items.pop_front();
}

std::string bytes_text(std::int64_t count) {
  return fmt::format("{} byte{}", count, count == 1 ? "" : "s");
}

void note_numbers(SeatHistory& seat, const SeenLine& seen) {
  if (seen.sort != LineSort::kRead) return;
  const protocol::LineFormat& format =
      seat.panel->to_game.format(static_cast<std::size_t>(seen.format));
  for (const std::uint16_t field : format.fields())
    seat.courses[field].course.add(seen.ended, seen.numbers[field]);
}

void note_change(SeatHistory& seat, const OutputChange& change) {
  const std::vector<FieldSource>& sources = seat.panel->to_panel_sources;
  for (std::size_t i = 0; i < sources.size(); ++i)
    if (sources[i].part_of == change.output && sources[i].part == change.part)
      seat.courses[seat.panel->to_game_fields.size() + i].course.add(change.due, change.number);
}

// Where no lines go out the board's own numbers are taken, and what outputs show before they
// change.
void sample(SeatHistory& seat, const Device& device) {
  for (FieldCourse& it : seat.courses) {
    if (it.place.to_game && !device.is_open())
      it.course.add(device.now(), device.field_number(it.place.field));
    if (!it.place.to_game && it.course.empty())
      it.course.add(device.now(), device.output_number(it.place.field));
  }
}

}  // namespace

SeatHistory::SeatHistory(const std::shared_ptr<const Panel>& of)
    : lines(of), panel(of), courses(courses_of(*of)), flashes(of->description) {}

struct History::State {
  std::vector<SeatHistory> seats;
  std::deque<SaidWord> words;
  std::deque<GameLineSeen> game_lines;
  std::vector<HoldersSeen> holders;
  std::uint64_t lost = 0;

  void say(const FeedItem& item, std::string text) {
    if (text.empty()) return;
    if (!words.empty() && words.back().text == text && words.back().seat == item.seat) {
      words.back().at = item.at;
      ++words.back().times;
      return;
    }
    put_bounded(words, {item.at, item.seat, std::move(text), 1}, kWordsMax);
  }
  void put(FeedItem& item);
  void put_note(const FeedItem& item, SeatHistory& seat, const Note& note);
};

void History::State::put_note(const FeedItem& item, SeatHistory& seat, const Note& note) {
  if (note.kind == NoteKind::kRestarted && note.due.ns > 0) ++seat.restarts;
  if (note.kind == NoteKind::kBrownedOut) ++seat.brown_outs;
  say(item, sentence_of(note, *seat.panel));
}

void History::State::put(FeedItem& item) {
  if (auto* word = std::get_if<FedWord>(&item.what)) return say(item, std::move(word->text));
  if (auto* line = std::get_if<FedGameLine>(&item.what))
    return put_bounded(game_lines, {item.at, line->error, std::move(line->text)}, kGameLinesMax);
  if (item.seat >= seats.size()) return;
  SeatHistory& seat = seats[item.seat];
  if (const auto* bytes = std::get_if<FedBytes>(&item.what)) {
    if (!bytes->to_game) return seat.lines.to_panel(item.at, bytes->bytes);
    seat.lines.to_game(item.at, bytes->bytes,
                       [&](const SeenLine& seen) { note_numbers(seat, seen); });
  } else if (const auto* change = std::get_if<FedChange>(&item.what)) {
    note_change(seat, change->change);
    seat.flashes.take(change->change);
  } else if (const auto* input = std::get_if<FedInput>(&item.what)) {
    seat.lines.event(input->input);
    if (const auto* slip = std::get_if<Slipped>(&input->input.what))
      say(item, fmt::format("the clock slipped by {}: this computer stood still",
                            write_duration(slip->by)));
  } else if (const auto* note = std::get_if<FedNote>(&item.what)) {
    put_note(item, seat, note->note);
  }
}

History::History() : state_(std::make_unique<State>()) {}
History::~History() = default;

void History::begin_anew() {
  state_ = std::make_unique<State>();
}

void History::take(const SessionView& view, FeedPortion portion) {
  while (state_->seats.size() < view.seats.size())
    state_->seats.emplace_back(view.seats[state_->seats.size()].observer.panel());
  while (state_->seats.size() > view.seats.size()) state_->seats.pop_back();
  state_->lost += portion.lost;
  for (std::size_t i = 0; i < view.seats.size(); ++i) {
    const std::shared_ptr<const Panel>& panel = view.seats[i].observer.panel();
    if (panel != state_->seats[i].panel) change_panel(state_->seats[i], panel);
  }
  for (FeedItem& item : portion.items) state_->put(item);
  for (std::size_t i = 0; i < view.seats.size(); ++i) {
    sample(state_->seats[i], view.seats[i].device);
    state_->seats[i].flashes.pass(view.now);
  }
}

SeatHistory& History::seat(std::size_t index) {
  return state_->seats[index];
}
const std::deque<SaidWord>& History::words() const {
  return state_->words;
}
const std::deque<GameLineSeen>& History::game_lines() const {
  return state_->game_lines;
}
std::uint64_t History::lost() const {
  return state_->lost;
}
std::vector<HoldersSeen>& History::holders() {
  return state_->holders;
}

std::string sentence_of(const Note& note, const Panel& panel) {
  const BoardDescription& board = panel.description.board;
  switch (note.kind) {
    case NoteKind::kRestarted:
      if (note.due.ns == 0) return "";
      return fmt::format("the board restarts; its program runs in {}",
                         write_duration(nanoseconds(note.count / 1'000'000 * 1'000'000)));
    case NoteKind::kReceiveOverrun:
      return fmt::format("the board lost {} of the game: its receive ring was full",
                         bytes_text(note.count));
    case NoteKind::kLostInBoot:
      return fmt::format("the board lost {} of the game: it was starting", bytes_text(note.count));
    case NoteKind::kHostBufferFull:
      return fmt::format("{} to the game were dropped: the game reads too slowly",
                         bytes_text(note.count));
    case NoteKind::kNobodyListening:
      return "";  // a real port drops them too
    case NoteKind::kWriteBufferFull:
      return fmt::format("{} of the game were dropped: it writes faster than the wire carries",
                         bytes_text(note.count));
    case NoteKind::kFrameErrors:
      return fmt::format("{} came with a framing error: the game's baud is not the panel's",
                         bytes_text(note.count));
    case NoteKind::kReadTimedOut:
      return fmt::format("the board waited {} in vain for the end of a line",
                         write_duration(nanoseconds(note.count)));
    case NoteKind::kBrownedOut:
      return fmt::format("the supply gave way at {:.0f} mA, and the board starts anew",
                         static_cast<double>(note.count) / 1e3);
    case NoteKind::kHeldInLoader:
      return fmt::format("a byte of the game reached the board's loader, which waits {}",
                         write_duration(board.boot_disturbed));
    case NoteKind::kProgramStopped:
      return fmt::format("the board's program stands still: its heap is used up after {} lines",
                         note.count);
  }
  return "";
}

}  // namespace understudy
