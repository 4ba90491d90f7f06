// A recording as the source of a session's inputs: what its hands did, at their recorded times, for
// a fresh device that answers whatever game is there now; or the very bytes that went to the game.
// Reads ahead a little, in bounded memory; plays a part of the file, and again as often as asked.
//
//   virtual time   0 ......... from |== round 1 ==| pause |== round 2 ==| grace
//                  stepped at once, |  recorded times ... + (to - from + pause)
//                  nobody there     |
#pragma once

#include <cstdint>
#include <deque>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "sim/base/result.h"
#include "sim/record/ordered_events.h"
#include "sim/record/replayed_bytes.h"
#include "sim/record/session_events.h"
#include "sim/session/session.h"

namespace understudy {

// How long a session goes on after the last round, so that the game's last answer is seen.
inline constexpr Duration kReplayGrace = milliseconds(500);
// From the end of a round to the beginning of the next: in it, hands take every control back.
inline constexpr Duration kReplayPause = seconds(1);

struct ReplayedSeat {
  std::uint16_t recorded = 0;          // its place in the header
  std::shared_ptr<const Panel> other;  // whose controls of the same name are moved; null: its own
  // What went to the game comes as BoxBytes, too; the session's seat has kRecording as its source,
  // and hands move the device beside. REQUIRES: no other panel
  bool as_bytes = false;
};

struct ReplayPlan {
  std::string path;
  std::vector<ReplayedSeat> seats;  // of the session, in their order
  Instant from;                     // what lies before is stepped through beforehand
  Instant to;                       // with what lies at it; not before `from`
  std::int64_t times = 1;           // rounds, at least 1
};

struct ReplayedMark {
  Instant at;
  std::string text;
};

// Thread: one. Reads the file between the session's steps: not for a file that is slow to read.
class Replay {
 public:
  // Errors: those of RecordingReader::open and recorded_seats. REQUIRES: survey() found nothing
  // wrong; seats of the plan are in the header
  static Result<std::unique_ptr<Replay>> open(const ReplayPlan& plan);

  // The session's time when it goes live; before it, it is stepped with what take_due() gives.
  [[nodiscard]] Instant begin() const;
  // When the last round's grace is over.
  [[nodiscard]] Instant end() const;
  // Once, at begin(): notes where each control is, for the next rounds.
  void went_live(const Session& session);

  // When something has to be taken, or read.
  [[nodiscard]] Instant next_due() const;
  // Puts what is due by `until` to the end of `inputs`, each at its time. REQUIRES: until never
  // goes back. Of one instant, hands stand before bytes.
  void take_due(Instant until, std::vector<SeatInput>& inputs);
  // What the game of now said, before take_due() for that time: lines may wait for it.
  void heard(std::uint16_t seat, const Input& input);
  // The marks among them, since the last call.
  std::vector<ReplayedMark> take_marks();

  // "12.3 of 60.0 s, round 2 of 3".
  [[nodiscard]] std::string progress(Instant now) const;
  // What was left out because a panel in the recorded one's place has no such control.
  [[nodiscard]] std::int64_t left_out() const { return left_out_; }
  // The file has changed since it was looked through; told once, and nothing comes any more.
  std::optional<Error> take_trouble();
  // Lines that only an asking would have brought, and that nobody asked for.
  [[nodiscard]] std::int64_t never_asked() const;

 private:
  explicit Replay(ReplayPlan plan) : plan_(std::move(plan)), reloaded_(plan_.seats.size(), false) {}
  Result<Done> begin_round();
  void plan_way_back();
  void read_ahead(Instant until);
  bool read_one();
  void take(const RecordedEvent& event, Instant at);
  void take_bytes(const RecordedEvent& event, Instant at);
  void take_hand(std::uint16_t seat, SeatInput input, Instant at);
  void give_up(Error error);
  [[nodiscard]] Instant round_begin() const { return plan_.from + offset(); }
  [[nodiscard]] Duration offset() const { return (plan_.to - plan_.from + kReplayPause) * round_; }

  ReplayPlan plan_;
  std::vector<std::optional<std::uint16_t>> seat_of_;  // of the session, for each of the header
  std::unique_ptr<RecordingReader> reader_;
  std::unique_ptr<OrderedEvents> events_;
  std::unique_ptr<SessionEvents> recorded_;
  std::vector<std::shared_ptr<const Panel>> panels_;       // recorded ones, as read so far
  std::vector<std::shared_ptr<const Panel>> panels_live_;  // of the session, at begin()
  std::vector<std::unique_ptr<ReplayedBytes>> bytes_;      // of seats as bytes
  std::vector<TimedPiece> pieces_;                         // scratch of take_due()
  std::vector<bool> reloaded_;                             // within the part that is played
  std::vector<SeatInput> way_back_;                        // times as from the round's begin
  std::int64_t round_ = 0;
  bool round_read_ = false;
  Instant read_until_;   // all before it is in `waiting_`
  Instant asked_until_;  // by take_due()
  std::deque<SeatInput> waiting_;
  std::deque<ReplayedMark> marks_waiting_;
  std::vector<ReplayedMark> marks_;
  std::int64_t left_out_ = 0;
  std::optional<Error> trouble_;
};

}  // namespace understudy
