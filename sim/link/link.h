// The role of a link: where bytes meet the game. What a link saw comes out as inputs of the device,
// each stamped once; what the device handed over goes in by write(). What the bytes mean is not
// known here.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "sim/base/result.h"
#include "sim/base/time.h"
#include "sim/model/inputs.h"

namespace understudy {

// Gives every outside event the time at which it came in; each stamp is later than the one before.
// The pacer is the one for real sessions.
class Stamps {
 public:
  virtual ~Stamps() = default;
  virtual Instant next() = 0;
};

// Why bytes never arrived. Every dropped byte is counted under one of these.
enum class DropReason : std::uint8_t {
  kNobodyOpen,     // to the game: handed over while no game had the link open
  kQueueFull,      // to the game: more than the host buffer was handed over
  kUnreadAtClose,  // to the game: the game closed before it had read them
  kUnplugged,      // either way: the cable was pulled
  kNeverFetched,   // to the panel: the game closed and the device had no room for 2 s
  kStranger,       // to the panel: from a program that was turned away
};
inline constexpr std::size_t kDropReasonCount = 6;

// "unread at close" and so on, as it stands in messages.
std::string_view name_of(DropReason reason);

// Totals since the link was made.
struct LinkCounts {
  std::uint64_t bytes_to_game = 0;  // that the kernel took
  std::uint64_t bytes_taken = 0;    // of them, left the host buffer again
  std::uint64_t bytes_to_panel = 0;
  std::uint64_t opens = 0;
  std::uint64_t strangers = 0;  // programs turned away
  std::array<std::uint64_t, kDropReasonCount> dropped{};

  [[nodiscard]] std::uint64_t dropped_by(DropReason reason) const {
    return dropped[static_cast<std::size_t>(reason)];
  }
};

// A process that holds a link open.
struct Holder {
  std::int64_t pid = 0;
  std::string program;  // its short name
  friend bool operator==(const Holder&, const Holder&) = default;
};

// Where the game that is in comes from, as far as the system tells without looking around.
struct FarEnd {
  std::string place;         // ADDRESS:PORT; empty: not by an address, or nobody is in
  std::uint64_t socket = 0;  // for holders_of_socket(); 0: on another machine, or unknown
};

// "tram_game (process 4711)", several joined by commas; "another program" for none.
std::string written(const std::vector<Holder>& holders);

// What became of the bytes of one write().
struct WriteOutcome {
  std::size_t handed = 0;   // the kernel has them now
  std::size_t waiting = 0;  // in the link's own queue, behind what the game has not taken yet
  std::size_t dropped = 0;  // counted in LinkCounts::dropped
};

// How the link is set before a game opens it.
struct LinkSettings {
  std::int64_t baud = 115'200;  // the panel's
  int stop_bits = 1;
  int host_buffer_bytes = 4'096;  // HostDescription::buffer_bytes
  // The panel speaks only while DTR is raised: say so where the link cannot see it.
  bool tell_unseen_dtr = false;
};

// Nothing here blocks. Thread: the pacer's, for all calls.
class Link {
 public:
  virtual ~Link() = default;

  [[nodiscard]] virtual std::string_view name() const = 0;  // "pty", "tcp"
  [[nodiscard]] virtual std::string where() const = 0;      // a path, or HOST:PORT

  // A game that was admitted has it open, and its LinkOpened was given out.
  [[nodiscard]] virtual bool open() const = 0;

  // False where this link cannot see how much the game that is in has read: its LinkOpened says
  // takes_at_once, no Taken comes out, and bytes_taken counts what the other machine confirmed.
  [[nodiscard]] virtual bool sees_taken() const = 0;

  // Hands bytes over towards the game: at most host_buffer_bytes wait in kernel and queue together;
  // what is more is dropped and counted, newest first.
  virtual WriteOutcome write(std::string_view bytes) = 0;

  // Puts what happened since the last call at the end of `out`: opened, line settings, modem lines,
  // taken, bytes, closed; several games in a row come one after the other. `space`: at most so many
  // bytes from the game (what the device's write buffer has room for); the rest stays in the kernel
  // and pushes back. Call it at each wake-up; it costs next to nothing where nothing happened.
  virtual void read_events(Stamps& stamps, std::size_t space, std::vector<Input>& out) = 0;

  // When the link wants read_events() even if nothing wakes the pacer; kNever: it doesn't.
  [[nodiscard]] virtual Instant look_again() const = 0;

  // Whether a game may come in. While not, whoever opens the link is a stranger: on TCP closed at
  // once, on a pty neither written to nor listened to. A game that is in already stays.
  virtual void admit(bool admitting) = 0;

  // Pulls the cable: the game sees what its system shows for that. LinkClosed comes out of the next
  // read_events(). Does nothing when pulled already.
  virtual void unplug() = 0;
  // Puts it back: the same place, as far as the system allows (where() may have changed).
  // Errors: kLinkFailed.
  virtual Result<Done> plug_in() = 0;

  // Known since the game came in: costs nothing.
  [[nodiscard]] virtual FarEnd far_end() const { return {}; }

  // Who holds it open now. Looks through all processes: only on demand.
  [[nodiscard]] virtual std::vector<Holder> who() const = 0;

  [[nodiscard]] virtual const LinkCounts& counts() const = 0;

  // Sentences for people about what happened here (a stranger turned away, a lock lifted), told
  // once; for standard error and the window, never for the game.
  virtual std::vector<std::string> take_notices() = 0;
};

}  // namespace understudy
