// Going away and coming back, and what is said of it.
#include "sim/link/returning_port.h"

#include <utility>

namespace understudy {
namespace {

// A port that is just there may not be usable yet: its rights are given a moment later.
constexpr Duration kQuietTime = seconds(2);

}  // namespace

Result<std::unique_ptr<SerialDevice>> ReturningPort::open(Pacer& pacer,
                                                          const SerialSettings& settings) {
  const Result<SerialPlace> place = read_serial_place(name_);
  if (!place.ok()) return place.error();
  const Result<std::string> path = find_serial_path(place.value(), *ports_);
  if (!path.ok()) return path.error();
  Result<std::unique_ptr<SerialDevice>> device = ports_->open(pacer, path.value(), settings);
  if (device.ok()) know(path.value());
  return device;
}

void ReturningPort::know(const std::string& path) {
  path_ = path;
  identity_.emplace(path_, *ports_);
}

void ReturningPort::went() {
  identity_->went(*ports_);
  refused_since_.reset();
  refusal_told_ = false;
  const std::string known_by = words();
  const bool at_path = thing_ == "the port";
  notices_.push_back(thing_ + " " + (at_path ? "" : "at ") + path_ +
                     " went away; going on, and opening it again when " +
                     (known_by == path_ ? "it" : known_by) + " returns");
}

std::unique_ptr<SerialDevice> ReturningPort::look(Pacer& pacer, Instant now,
                                                  const SerialSettings& settings) {
  const std::optional<std::string> path = identity_->find(*ports_);
  if (!path) return nullptr;
  Result<std::unique_ptr<SerialDevice>> device = ports_->open(pacer, *path, settings);
  if (!device.ok()) {
    // A bare path is tried blindly, so its absence is no news.
    const bool news = words() != path_ || device.error().code == ErrorCode::kBusy;
    if (!refused_since_) refused_since_ = now;
    if (news && now - *refused_since_ >= kQuietTime && !std::exchange(refusal_told_, true))
      notices_.push_back(thing_ + " is back, and " + device.error().text);
    return nullptr;
  }
  const std::string at = thing_ == "the port" ? " " + path_ : " at " + path_;
  notices_.push_back(thing_ + at + " is back" + (*path == path_ ? "" : " as " + *path));
  know(*path);
  return std::move(device).value();
}

}  // namespace understudy
