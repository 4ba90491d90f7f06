// Who has the seat.
#include "sim/link/seat_links.h"

#include <algorithm>

namespace understudy {

SeatLinks::SeatLinks(std::vector<std::unique_ptr<Link>> links) : links_(std::move(links)) {}

WriteOutcome SeatLinks::write(std::string_view bytes) {
  if (holder_ != nullptr) return holder_->write(bytes);
  dropped_nobody_ += bytes.size();
  return {.dropped = bytes.size()};
}

void SeatLinks::read_events(Stamps& stamps, std::size_t space, std::vector<Input>& out) {
  for (const std::unique_ptr<Link>& link : links_) {
    link->admit(holder_ == nullptr || holder_ == link.get());
    const std::size_t before = out.size();
    link->read_events(stamps, space, out);
    if (link->open()) {
      holder_ = link.get();
    } else if (holder_ == link.get()) {
      holder_ = nullptr;
    }
    // What one link gave is no longer free for the next: two games in one look are possible.
    for (std::size_t i = before; i < out.size(); ++i) {
      if (const auto* bytes = std::get_if<BytesFromGame>(&out[i].what)) {
        space -= std::min(space, bytes->bytes.size());
      }
    }
  }
  // A stranger that waits at an earlier link may come in now.
  for (const std::unique_ptr<Link>& link : links_) {
    link->admit(holder_ == nullptr || holder_ == link.get());
  }
}

void SeatLinks::unplug() {
  for (const std::unique_ptr<Link>& link : links_) link->unplug();
}

Result<Done> SeatLinks::plug_in() {
  for (const std::unique_ptr<Link>& link : links_) {
    Result<Done> plugged = link->plug_in();
    if (!plugged.ok()) return plugged;
  }
  return Done{};
}

std::vector<Holder> SeatLinks::who() const {
  return holder_ != nullptr ? holder_->who() : std::vector<Holder>{};
}

LinkCounts SeatLinks::counts() const {
  LinkCounts sum;
  for (const std::unique_ptr<Link>& link : links_) {
    const LinkCounts& one = link->counts();
    sum.bytes_to_game += one.bytes_to_game;
    sum.bytes_taken += one.bytes_taken;
    sum.bytes_to_panel += one.bytes_to_panel;
    sum.opens += one.opens;
    sum.strangers += one.strangers;
    for (std::size_t i = 0; i < kDropReasonCount; ++i) sum.dropped[i] += one.dropped[i];
  }
  sum.dropped[static_cast<std::size_t>(DropReason::kNobodyOpen)] += dropped_nobody_;
  return sum;
}

std::vector<std::string> SeatLinks::take_notices() {
  std::vector<std::string> all;
  for (const std::unique_ptr<Link>& link : links_) {
    for (std::string& notice : link->take_notices()) all.push_back(std::move(notice));
  }
  return all;
}

void SeatLinks::append_to(std::vector<Link*>& all) const {
  for (const std::unique_ptr<Link>& link : links_) all.push_back(link.get());
}

}  // namespace understudy
