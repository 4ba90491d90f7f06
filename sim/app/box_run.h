// The real box of a running session: its bytes go to the links, and the game's to it, as soon as
// they are read and before anything else is done with them; what is altered or comes from the
// virtual box takes the way through the session. Hands that move a control while the box speaks
// hold it in the box's place.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "protocol/witness.h"
#include "sim/app/hand_queue.h"
#include "sim/faults/hand_words.h"
#include "sim/link/box_port.h"
#include "sim/link/seat_links.h"
#include "sim/session/session.h"

namespace understudy {

// Of seat 0, the only one of such a session. Thread: the pacer's.
class BoxRun {
 public:
  // `panel` says how the port is set. Errors: as open_box.
  static Result<std::unique_ptr<BoxRun>> open(Pacer& pacer, const std::string& port,
                                              const Panel& panel);

  // When a turn is wanted.
  [[nodiscard]] Instant next_wake() const { return earlier(port_->look_again(), next_planned()); }

  // ---- in each turn, in this order ----
  // Reads the box; what passes unaltered goes to the links at once.
  void read(const Session& session, const HandQueue& hands, SeatLinks& links,
            std::vector<SeatInput>& inputs);
  // How much of the game's bytes there is room for; nothing: the virtual box's room counts.
  [[nodiscard]] std::optional<std::size_t> room(const Session& session) const;
  // What a link saw: the game's bytes go to the box, its speed and modem lines are followed.
  void hear(const Input& of_link, const Session& session);
  // Of inputs from `first` on: hands that move what nobody holds yet take hold of it first, and
  // where the virtual control stands elsewhere than the box's, it is brought there before. Adds
  // what was planned and is due by `until`.
  void take_due(Instant until, std::size_t first, const Session& session, HandQueue& hands,
                std::vector<SeatInput>& inputs);
  // Of a chunk that comes out of the session: what has not gone to the links yet.
  [[nodiscard]] std::string_view not_passed(std::string_view chunk);

  // ---- what people ask ----
  // The virtual box takes the box's place, its controls as the newest lines say, or gives it back.
  std::optional<Error> change(SeatSource source, const Session& session,
                              std::vector<SeatInput>& inputs);
  // The box's own value counts again; without places: of all controls.
  std::optional<Error> let_go(const std::vector<SaidPart>& places, const Session& session,
                              std::vector<SeatInput>& inputs);

  std::vector<std::string> take_notices();
  // "from the box 1200 bytes, to it 300": how it was, at the end.
  [[nodiscard]] std::string summary() const;
  [[nodiscard]] const BoxPort& port() const { return *port_; }

 private:
  BoxRun(Pacer& pacer, std::unique_ptr<BoxPort> port) : pacer_(pacer), port_(std::move(port)) {}
  [[nodiscard]] Instant next_planned() const {
    return planned_.empty() ? kNever : planned_.front().input.at;
  }
  void follow(const LineSettings& line);
  void plan(Instant at, decltype(Input::what) what);
  [[nodiscard]] std::vector<HandAction> moves_to_lines(const Session& session) const;
  void hold_first(const SeatInput& hand, const Session& session, HandQueue& hands,
                  std::vector<SeatInput>& inputs);
  [[nodiscard]] bool is_planned_to_hold(const HandAction& hand) const;

  Pacer& pacer_;
  std::unique_ptr<BoxPort> port_;
  std::vector<BoxEvent> events_;
  protocol::WitnessSieve witness_;  // what a game says to its testers never reaches a box
  std::string for_box_;
  std::size_t passed_ = 0;          // bytes of this turn that the links have already
  std::vector<SeatInput> planned_;  // ascending in time
  std::vector<std::string> notices_;
  std::int64_t refused_baud_ = 0;
};

}  // namespace understudy
