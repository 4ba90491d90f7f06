// A recording that is looked at: played from any place, gone through line by line, and with a hand
// of one's own on a control while the rest goes on as it was. No clock: the caller says how far.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "sim/base/result.h"
#include "sim/record/reader.h"
#include "sim/session/session.h"

namespace understudy {

// What a review holds in memory at most; of a longer recording it shows the beginning.
inline constexpr std::size_t kReviewInputsMax = 3'000'000;
// Copies of the session that seeking starts from.
inline constexpr std::size_t kReviewCopiesMax = 256;

struct ReviewMark {
  Instant at;
  std::string text;
};

// What happened in one part of the time line, for a picture of the whole.
struct ReviewBin {
  std::uint32_t hands = 0;
  std::uint32_t changes = 0;  // of outputs
  std::uint32_t lines = 0;    // whole lines to the game, of all seats
};
inline constexpr std::size_t kReviewBins = 600;

// The whole is played through once when it is opened, and again from the nearest copy of the
// session when a place is sought. What comes out is what this program's model makes of the recorded
// inputs; whether that is what was recorded, verify() tells. Movable. Thread: one at a time.
class Review {
 public:
  // Reads to the end and plays it. Errors (kUnusable): nothing was recorded, a panel that is none,
  // a line that is wrong or out of order; the message names the line.
  static Result<Review> open(RecordingReader& reader);

  [[nodiscard]] const RecordingHeader& header() const { return header_; }
  [[nodiscard]] Instant length() const { return length_; }
  [[nodiscard]] const std::vector<ReviewMark>& marks() const { return marks_; }
  // kReviewBins parts of equal length.
  [[nodiscard]] const std::vector<ReviewBin>& overview() const { return overview_; }
  // What a person should know of this recording: cut off, made by another model, too long to show
  // in whole. Empty: nothing.
  [[nodiscard]] const std::string& remark() const { return remark_; }

  [[nodiscard]] const Session& session() const { return session_; }
  [[nodiscard]] Instant now() const { return session_.now(); }

  // Goes on to `until`, at most to the end. `outputs` is cleared first; inputs() are those of this
  // call.
  void play(Instant until, SessionOutputs& outputs);
  [[nodiscard]] std::span<const SeatInput> inputs() const { return given_; }

  // Goes to t (0 to length()), forwards or back. Hands that were taken over go back to the
  // recording.
  void seek(Instant t);
  // To where the next line to the game of this seat is complete, or the one before. False: there is
  // none; the place is then the end, or the beginning. As seek() else.
  bool seek_next_line(std::size_t seat);
  bool seek_line_before(std::size_t seat);

  // The hand moves `after` from now, at once where that is nothing. Recorded hands on the same part
  // of the same control are left out from here on, until a place is sought or the panel is read
  // anew. False: that is beyond the end, or there is no such control.
  bool take_over(std::uint16_t seat, const HandAction& hand, Duration after = {});
  // "bell", in the order in which they were taken over.
  [[nodiscard]] std::vector<std::string> taken_over() const;

 private:
  struct Taken {
    std::uint16_t seat = 0;
    std::uint16_t control = 0;
    std::uint8_t part = 0;
    friend bool operator==(const Taken&, const Taken&) = default;
  };
  struct Copy {
    Instant at;
    std::size_t next = 0;  // the first input after it
    std::shared_ptr<const Session> session;
  };
  explicit Review(const RecordingHeader& header) : header_(header), session_(header.seed) {}
  Result<Done> add_seats();
  Result<Done> read(RecordingReader& reader);
  void remark_on(const RecordingReader& reader, bool too_long);
  void play_through();
  void note_in_overview(const SessionOutputs& outputs);
  void keep_copy();
  void step(Instant until, SessionOutputs& outputs);
  bool step_to_line(std::size_t seat);
  [[nodiscard]] bool is_left_out(const SeatInput& input) const;
  [[nodiscard]] std::int64_t lines_seen(std::size_t seat) const;
  [[nodiscard]] ReviewBin& bin_of(Instant t);

  RecordingHeader header_;
  std::vector<SeatOptions> seats_;
  std::vector<SeatInput> inputs_;
  std::vector<ReviewMark> marks_;
  std::vector<ReviewBin> overview_;
  std::string remark_;
  Instant length_;
  Session session_;
  std::size_t next_ = 0;  // of inputs_: the first that was not played
  std::vector<Copy> copies_;
  Duration copy_period_ = seconds(1);
  std::vector<Taken> taken_;
  std::vector<SeatInput> own_;    // that are not due yet, in order of time
  std::vector<SeatInput> given_;  // in the last step
};

}  // namespace understudy
