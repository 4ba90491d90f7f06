// The verb `ports`: the real serial ports of this machine, and how to name them to --serial.
#include <cstdio>

#include "sim/app/ports_text.h"
#include "sim/app/verb.h"

namespace understudy {
namespace {

VerbRun declare_ports(Arguments& arguments) {
  auto as_json = std::make_shared<bool>(false);
  arguments.flag("--json", *as_json, "the answer as a JSON list, one entry for each port");
  arguments.example("understudy ports --json");
  return [as_json] {
    const auto ports = system_serial_ports().list();
    std::fputs((*as_json ? ports_json(ports) : ports_text(ports)).c_str(), stdout);
    return kStatusFine;
  };
}

}  // namespace

constinit const Verb verb_ports{"ports", VerbGroup::kDescribe,
                                "the real serial ports here, and what to call them", declare_ports};

}  // namespace understudy
