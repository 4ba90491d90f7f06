// Games come and go at a pseudo-terminal: who is in, what was set, what was read, what is left when
// one goes. The system calls are in pty_device.h, the events in open_watch.h.
#include "sim/link/pty_link.h"

#include <algorithm>

#include "sim/link/holders.h"
#include "sim/link/host_queue.h"
#include "sim/link/link_reading.h"
#include "sim/link/open_watch.h"
#include "sim/link/private_folder.h"
#include "sim/link/pty_device.h"
#include "sim/link/watch.h"

namespace understudy {
namespace {

// How often the settings are looked at: often just after an opening, when a game makes them.
constexpr Duration kLookPeriod = milliseconds(10);
constexpr Duration kLookPeriodEarly = milliseconds(1);
constexpr Duration kEarly = milliseconds(50);
// Whether anybody is still there is looked at again after each opening or closing, since the event
// comes before the deed is done, and then now and then for good: an event may be missed while our
// own opening and closing is hidden from the watch. Without a watch, looking often is all there is.
constexpr Duration kHeldGapMin = milliseconds(1);
constexpr Duration kHeldGapMax = seconds(1);
constexpr Duration kHeldGapUnwatched = milliseconds(10);
constexpr Duration kNoticeGap = seconds(1);
// A real port lets its output go out before a close is done.
constexpr Duration kClosingMax = seconds(2);
// A program that opens the port beside a game is looked for a moment later, so that one which only
// looks in is left alone and a child has become the program that it will be.
constexpr Duration kBesideDelay = milliseconds(200);
constexpr std::size_t kReadBytesMax = 65'536;

class PtyLink final : public Link {
 public:
  PtyLink(Pacer& pacer, const PtyOptions& options)
      : pacer_(pacer),
        options_(options),
        line_{options.settings.baud, options.settings.stop_bits},
        queue_({.bytes_max = static_cast<std::size_t>(options.settings.host_buffer_bytes),
                .kernel_max = kUnreadBytesMax,
                .settling = kSettling}),
        watch_(pacer) {}

  Result<Done> plug_in() override;
  void unplug() override;
  std::string_view name() const override { return "pty"; }
  std::string where() const override { return named_ ? named_->path() : path_; }
  bool open() const override { return visit_ == Visit::kGame; }
  bool sees_taken() const override { return true; }
  WriteOutcome write(std::string_view bytes) override;
  void read_events(Stamps& stamps, std::size_t space, std::vector<Input>& out) override;
  Instant look_again() const override { return look_at_; }
  void admit(bool admitting) override;
  std::vector<Holder> who() const override { return holders_of_path(path_); }
  const LinkCounts& counts() const override { return counts_; }
  std::vector<std::string> take_notices() override { return std::exchange(notices_, {}); }

 private:
  enum class Visit { kNone, kGame, kStranger };
  using Reading = LinkReading;

  HostQueue::Kernel kernel() { return kernel_of(device_, counts_); }
  void drop(DropReason reason, std::size_t bytes) {
    counts_.dropped[static_cast<std::size_t>(reason)] += bytes;
  }
  bool look_who_is_there(Instant now, const OpenEvents& events);
  void test_held(Instant now);
  void begin_visit(Reading& reading);
  void end_visit(Reading& reading, bool reopened);
  void clean_up(bool reopened);
  void renew();
  void look_for_second_game();
  void read_settings(Reading& reading);
  void tell_unseen_dtr(Instant now);
  void read_taken(Reading& reading);
  void read_bytes(Reading& reading);
  std::string fetch(std::size_t space);
  void listen_to_stranger();
  void plan_next_look(Instant now);

  Pacer& pacer_;
  PtyOptions options_;
  LineSettings line_;  // the panel's own
  HostQueue queue_;
  LinkCounts counts_;
  std::vector<std::string> notices_;
  std::string path_;

  std::optional<PtyDevice> device_;  // absent: unplugged
  std::unique_ptr<NamedLink> named_;
  OpenWatch watch_;
  std::unique_ptr<Watch> readable_;

  bool admitting_ = true;
  bool held_ = false;    // somebody has the slave open
  int descriptors_ = 0;  // roughly how many; only to tell one game after another in one wake-up
  Visit visit_ = Visit::kNone;
  Instant visit_began_;
  std::optional<Instant> closing_since_;  // nobody is there any more; bytes of theirs still are
  bool bytes_left_ = false;               // in the kernel: the device had no room
  LineSettings reported_;
  ModemLines reported_modem_;
  bool modem_seen_ = false;
  bool dtr_told_ = false;
  Instant look_at_ = kNever;
  Instant test_at_ = kNever;
  Duration test_gap_ = kHeldGapMin;
  Duration held_gap_max_ = kHeldGapMax;
  std::optional<Instant> stranger_told_at_;
  bool lock_told_ = false;
  Instant search_at_ = kNever;  // for a second game
  std::string second_told_;     // what was said of it last
};

Result<Done> PtyLink::plug_in() {
  if (device_) return Done{};
  Result<PtyDevice> device = PtyDevice::open(line_);
  if (!device.ok()) return device.error();
  device_ = std::move(device).value();
  path_ = device_->path();
  if (options_.name && !named_) {
    Result<std::unique_ptr<NamedLink>> named = NamedLink::put(*options_.name, path_);
    if (!named.ok()) {
      device_.reset();
      return named.error();
    }
    named_ = std::move(named).value();
  } else if (named_) {
    Result<Done> pointed = named_->point_to(path_);
    if (!pointed.ok()) return pointed.error();
  }
  readable_ = std::make_unique<Watch>(pacer_, device_->master());
  held_gap_max_ =
      watch_.watch(path_, options_.tells_reads_at_once) ? kHeldGapMax : kHeldGapUnwatched;
  held_ = false;
  descriptors_ = 0;
  test_gap_ = held_gap_max_;
  test_at_ = grid_at_or_after(pacer_.clock() + test_gap_, Instant{}, test_gap_);
  look_at_ = test_at_;
  return Done{};
}

void PtyLink::unplug() {
  if (!device_) return;
  drop(DropReason::kUnplugged, queue_.drop_all());
  watch_.look_away();
  readable_.reset();
  device_.reset();
  held_ = false;
  look_at_ = pacer_.clock();
}

void PtyLink::admit(bool admitting) {
  if (admitting == admitting_) return;
  admitting_ = admitting;
  if (visit_ == Visit::kStranger) look_at_ = pacer_.clock();
}

WriteOutcome PtyLink::write(std::string_view bytes) {
  if (!open() || !device_ || closing_since_) {
    drop(device_ ? DropReason::kNobodyOpen : DropReason::kUnplugged, bytes.size());
    return {.dropped = bytes.size()};
  }
  const WriteOutcome outcome = queue_.put(bytes, pacer_.clock(), kernel());
  drop(DropReason::kQueueFull, outcome.dropped);
  if (queue_.settling()) look_at_ = earlier(look_at_, pacer_.clock() + kLookPeriod);
  return outcome;
}

void PtyLink::read_events(Stamps& stamps, std::size_t space, std::vector<Input>& out) {
  Reading reading{stamps, space, out, pacer_.clock()};
  if (!device_) {
    if (open()) reading.put(LinkClosed{});
    visit_ = Visit::kNone;
    closing_since_.reset();
    look_at_ = kNever;
    return;
  }
  const OpenEvents events = watch_.take();
  const bool more_wanted = bytes_left_ && space > 0;
  if (!events.any && !readable_->ready() && !more_wanted && reading.now < look_at_) return;

  const bool reopened = look_who_is_there(reading.now, events);
  if (reopened && open()) {
    read_taken(reading);
    read_bytes(reading);
    end_visit(reading, held_);
  }
  if (visit_ == Visit::kStranger && (admitting_ || !held_)) {
    clean_up(admitting_ && held_);
    visit_ = Visit::kNone;
  }
  // Bytes may come from a game whose opening was missed, and one may have come and gone.
  const bool came = held_ || events.opened || readable_->ready();
  // One event for each opening that is no visit's first: the game's own, or a second game's.
  const bool beside = events.opened && (open() || events.net > 1) && !reopened;
  if (beside && search_at_ == kNever) {
    search_at_ = watch_.reserve_search(reading.now + kBesideDelay);
  }
  if (visit_ == Visit::kNone && came) begin_visit(reading);
  if (visit_ == Visit::kStranger) listen_to_stranger();
  if (open()) {
    read_settings(reading);
    read_taken(reading);
    read_bytes(reading);
    if (!held_) end_visit(reading, false);
  }
  if (reading.now >= search_at_) look_for_second_game();
  plan_next_look(reading.now);
}

// True where one game left and another came (or the same one again) since the last look.
bool PtyLink::look_who_is_there(Instant now, const OpenEvents& events) {
  const bool gone_between = descriptors_ + events.least <= 0 && events.closed_then_opened;
  descriptors_ = std::max(0, descriptors_ + events.net);
  if (events.opened) {
    held_ = true;
    test_gap_ = kHeldGapMin;
    test_at_ = now + test_gap_;
  }
  if (events.closed) test_gap_ = kHeldGapMin;
  if (events.closed || now >= test_at_) test_held(now);
  const bool came_back = closing_since_ && events.opened;
  return gone_between || came_back;
}

void PtyLink::test_held(Instant now) {
  watch_.look_away();
  held_ = device_->held_by_others();
  watch_.watch(path_, options_.tells_reads_at_once);
  descriptors_ = held_ ? std::max(descriptors_, 1) : 0;
  // The slow looks of many links fall into one wake-up.
  test_at_ = test_gap_ == held_gap_max_ ? grid_at_or_after(now + test_gap_, Instant{}, test_gap_)
                                        : now + test_gap_;
  test_gap_ = std::min(test_gap_ * 10, held_gap_max_);
}

void PtyLink::begin_visit(Reading& reading) {
  if (!admitting_) {
    visit_ = Visit::kStranger;
    ++counts_.strangers;
    if (stranger_told_at_ && reading.now - *stranger_told_at_ < kNoticeGap) return;
    stranger_told_at_ = reading.now;
    notices_.push_back("turned away at " + where() + ": " + written(who()) +
                       "; another game has this seat");
    return;
  }
  // Whoever opens a port of this system raises DTR and RTS with it.
  visit_ = Visit::kGame;
  visit_began_ = reading.now;
  ++counts_.opens;
  reported_ = line_;
  reported_modem_ = {.dtr = true, .rts = true};
  modem_seen_ = false;
  reading.put(LinkOpened{.dtr = true, .takes_at_once = false});
  if (options_.exclusive) device_->lock(true);
}

void PtyLink::end_visit(Reading& reading, bool reopened) {
  if (!reopened && bytes_left_) {
    if (!closing_since_) closing_since_ = reading.now;
    if (reading.now - *closing_since_ < kClosingMax) return;
    drop(DropReason::kNeverFetched, fetch(kReadBytesMax).size());
  }
  clean_up(reopened);
  reading.put(LinkClosed{});
  visit_ = Visit::kNone;
}

// Makes the pseudo-terminal as it was before anybody came. Where the next game is there already,
// its settings stay.
void PtyLink::clean_up(bool reopened) {
  drop(DropReason::kUnreadAtClose, queue_.drop_all());
  closing_since_.reset();
  device_->clear_unread();
  if (reopened) return;
  if (device_->locked()) {
    device_->lock(false);
    if (!options_.exclusive && !std::exchange(lock_told_, true)) {
      notices_.push_back("the game closed " + where() +
                         " without lifting its exclusive lock; lifted here, as a real port does");
    }
  }
  if (device_->keep()) {
    device_->put_settings_back();
  } else {
    renew();
  }
}

// The path is locked for good and the descriptor that could lift the lock is lost.
void PtyLink::renew() {
  readable_.reset();
  device_.reset();
  const std::string old_path = path_;
  const Result<Done> plugged = plug_in();
  notices_.push_back("the game left " + old_path + " locked; " +
                     (plugged.ok() ? "the port is now at " + path_ : plugged.error().text));
}

void PtyLink::read_settings(Reading& reading) {
  if (closing_since_) return;  // nobody is there who could mean them
  const PtyState state = device_->state();
  if (!(state.line == reported_)) {
    reported_ = state.line;
    reading.put(state.line);
  }
  if (state.modem) modem_seen_ = true;
  if (state.modem && !(*state.modem == reported_modem_)) {
    reported_modem_ = *state.modem;
    reading.put(*state.modem);
  }
  if (!modem_seen_) tell_unseen_dtr(reading.now);
}

// Said of a game that had time to set the lines, once.
void PtyLink::tell_unseen_dtr(Instant now) {
  if (!options_.settings.tell_unseen_dtr || dtr_told_ || now - visit_began_ <= kHeldGapMax) return;
  dtr_told_ = true;
  notices_.push_back(
      "this panel speaks only while DTR is raised; whether the game raises it cannot be seen at " +
      where() +
      ", so it is taken as raised while that is open; of a game started after -- it is seen");
}

void PtyLink::look_for_second_game() {
  search_at_ = kNever;
  if (!open()) return;
  const std::vector<std::vector<Holder>> games = games_at_path(path_);
  if (games.size() < 2) return;
  // Which of them was first is not known: one that started early may have opened the port late.
  std::vector<Holder> one_of_each;
  for (const std::vector<Holder>& game : games) one_of_each.push_back(game.front());
  const std::string number = games.size() == 2 ? "two" : std::to_string(games.size());
  const std::string told =
      number + " programs have " + where() + " open: " + written(one_of_each) +
      "; each gets a part of the bytes; close one" +
      (options_.exclusive ? ": --exclusive keeps out all but root" : ", or start with --exclusive");
  if (told == second_told_) return;
  second_told_ = told;
  notices_.push_back(told);
}

void PtyLink::read_taken(Reading& reading) {
  if (closing_since_) return;
  const std::optional<std::size_t> unread =
      device_->keep() ? device_->unread() : std::optional<std::size_t>(queue_.in_kernel());
  const std::size_t taken = queue_.taken(unread, reading.now);
  if (taken > 0) {
    counts_.bytes_taken += taken;
    reading.put(Taken{static_cast<std::int64_t>(taken)});
  }
  queue_.move_up(reading.now, kernel());
}

void PtyLink::read_bytes(Reading& reading) {
  reading.put_bytes(fetch(reading.space), counts_);
}

// Up to `space` bytes that arrived; notes whether there may be more.
std::string PtyLink::fetch(std::size_t space) {
  std::string bytes;
  if (!readable_->ready() && !bytes_left_ && held_) return bytes;
  char buffer[4'096];
  bytes_left_ = true;
  while (bytes_left_ && bytes.size() < space) {
    const std::size_t asked = std::min(sizeof buffer, space - bytes.size());
    const std::size_t got = device_->read(buffer, asked);
    bytes.append(buffer, got);
    // What comes after a short read rings again, while somebody is there to send it.
    bytes_left_ = held_ ? got == asked : got > 0;
  }
  if (!bytes_left_) readable_->arm();
  return bytes;
}

void PtyLink::listen_to_stranger() {
  const std::size_t bytes = fetch(kReadBytesMax).size();
  drop(DropReason::kStranger, bytes);
}

void PtyLink::plan_next_look(Instant now) {
  look_at_ = earlier(test_at_, search_at_);
  if (closing_since_) look_at_ = earlier(look_at_, *closing_since_ + kClosingMax);
  if (!open()) return;
  const bool early = now - visit_began_ < kEarly;
  // On a grid, so that the looks of many links fall into one wake-up.
  const Instant next =
      grid_at_or_after(now + nanoseconds(1), Instant{}, early ? kLookPeriodEarly : kLookPeriod);
  look_at_ = earlier(look_at_, next);
  if (queue_.settling()) look_at_ = earlier(look_at_, now + kSettling);
}

}  // namespace

bool has_ptys() {
  return true;
}

Result<std::unique_ptr<Link>> open_pty(Pacer& pacer, const PtyOptions& options) {
  auto link = std::make_unique<PtyLink>(pacer, options);
  Result<Done> plugged = link->plug_in();
  if (!plugged.ok()) return plugged.error();
  return std::unique_ptr<Link>(std::move(link));
}

}  // namespace understudy
