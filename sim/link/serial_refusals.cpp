// Sentences about ports that cannot be had.
#include "sim/link/serial_refusals.h"

#include "sim/link/serial_place.h"

namespace understudy {
namespace {

Error cannot_open(ErrorCode code, const std::string& path, const std::string& why) {
  return {code, "cannot open the serial port " + path + ": " + why};
}

}  // namespace

Error refused_busy(const std::string& path, const std::vector<Holder>& holders) {
  return cannot_open(ErrorCode::kBusy, path,
                     written(holders) + " has it open; close that, or give another port");
}

Error refused_rights(const std::string& path, const PortRights& rights) {
  const std::string belongs = "no right to; it belongs to " + rights.owner;
  std::string remedy;
  if (!rights.group_may) {
    remedy = belongs + " alone: ask whoever looks after this machine";
  } else if (rights.user_in_group) {
    remedy = belongs + " and the group " + rights.group + ", which " + rights.user +
             " has joined since this login: log out and in again";
  } else {
    remedy = belongs + " and the group " + rights.group + ": join that with 'sudo usermod -aG " +
             rights.group + " " + rights.user + "', then log out and in again";
  }
  return cannot_open(ErrorCode::kLinkFailed, path, remedy);
}

Error refused_kind(const std::string& path, const std::string& is) {
  return cannot_open(ErrorCode::kLinkFailed, path,
                     "it is " + is + ", not a serial port; 'understudy ports' lists those");
}

Error refused_absent(const std::string& path, const std::string& leads_to,
                     std::span<const SerialPortInfo> ports) {
  const std::string why = leads_to.empty()
                              ? "there is no such port"
                              : "it leads to " + leads_to + ", and there is no such port";
  return cannot_open(ErrorCode::kLinkFailed, path, why + "; " + told(ports));
}

Error refused_otherwise(const std::string& path, const std::string& said) {
  return cannot_open(ErrorCode::kLinkFailed, path,
                     "the system said: " + said + "; is its adapter plugged in and working?");
}

std::optional<Error> refused_settings(const std::string& path, const SerialSettings& asked,
                                      const SerialSettings& taken) {
  SerialSettings framing = taken;
  framing.baud = asked.baud;
  const std::int64_t off =
      taken.baud > asked.baud ? taken.baud - asked.baud : asked.baud - taken.baud;
  // Both ends' errors add up: a receiver of 8N1 stands 4.6 % in all, and half of that is advised
  // for one end (ATmega328P, automotive sheet 7810C, table 19-2). Boards themselves are off by up
  // to 2.1 %, so 3 % leaves them some of it.
  const bool too_far = off * 100 > asked.baud * 3;
  if (!too_far && framing == asked) return std::nullopt;
  const std::string remedy =
      too_far ? "; set [wire] baud to a speed that it has, or use another adapter"
              : "; set [wire] frame to one that it has, or use another adapter";
  return Error{ErrorCode::kLinkFailed, "the serial port " + path + " cannot do " + written(asked) +
                                           ": asked for it, it took " + written(taken) + remedy};
}

}  // namespace understudy
