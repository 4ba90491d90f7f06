// All links of one seat as one link: lets one game in at a time, whichever way it comes.
#pragma once

#include <memory>
#include <span>
#include <vector>

#include "sim/link/link.h"

namespace understudy {

// Owns the links. The first that a game opens is the seat's until that game closes; meanwhile the
// others admit nobody. Writes go to the open one; with none open they are dropped and counted.
class SeatLinks {
 public:
  explicit SeatLinks(std::vector<std::unique_ptr<Link>> links);

  [[nodiscard]] bool open() const { return holder_ != nullptr; }
  // The link that the game came in by; null when nobody is in.
  [[nodiscard]] const Link* holder() const { return holder_; }

  WriteOutcome write(std::string_view bytes);
  // As Link::read_events, for all links in their order; events of strangers do not come out.
  void read_events(Stamps& stamps, std::size_t space, std::vector<Input>& out);
  void unplug();
  Result<Done> plug_in();

  [[nodiscard]] std::vector<Holder> who() const;
  [[nodiscard]] LinkCounts counts() const;  // of all links together
  std::vector<std::string> take_notices();

  [[nodiscard]] std::span<const std::unique_ptr<Link>> links() const { return links_; }
  // For Pacer::wait, which takes the links of all seats.
  void append_to(std::vector<Link*>& all) const;

 private:
  std::vector<std::unique_ptr<Link>> links_;
  Link* holder_ = nullptr;
  std::uint64_t dropped_nobody_ = 0;
};

}  // namespace understudy
