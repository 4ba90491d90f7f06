// `check PANEL...`: is the panel file right, and can the box be built like this? The work is done
// by sim/panel/check_report.h; here it is shown, as text or as JSON.
#include <cstdio>
#include <nlohmann/json.hpp>

#include "sim/app/panel_argument.h"
#include "sim/app/verb.h"
#include "sim/panel/check_text.h"

namespace understudy {
namespace {

using Json = nlohmann::ordered_json;

struct CheckOptions {
  std::vector<std::string> panels;
  bool as_json = false;
};

Json json_of(const Currents& currents) {
  Json lamps = Json::array();
  for (const LampRow& row : currents.lamps) {
    lamps.push_back({
        {"name",             row.name            },
        {"pin",              row.pin             },
        {"colour",           row.colour          },
        {"forward_uv",       row.forward_uv      },
        {"resistor_mohm",    row.resistor_mohm   },
        {"current_ua",       row.current_ua      },
        {"advised_e12_mohm", row.advised_e12_mohm},
        {"advised_e24_mohm", row.advised_e24_mohm}
    });
  }
  Json others = Json::array();
  for (const DrawRow& row : currents.others) {
    others.push_back({
        {"name",       row.name      },
        {"kind",       row.kind      },
        {"pin",        row.pin       },
        {"current_ua", row.current_ua}
    });
  }
  Json groups = Json::array();
  for (const GroupRow& row : currents.groups) {
    groups.push_back({
        {"pins",     row.pins                     },
        {"carries",  row.sinks ? "sink" : "source"},
        {"used_ua",  row.used_ua                  },
        {"limit_ua", row.limit_ua                 }
    });
  }
  return {
      {"lamps",           lamps                   },
      {"others",          others                  },
      {"groups",          groups                  },
      {"chip_ua",         currents.chip_ua        },
      {"chip_limit_ua",   currents.chip_limit_ua  },
      {"supply_ua",       currents.supply_ua      },
      {"supply_limit_ua", currents.supply_limit_ua},
      {"chip_uv",         currents.chip_uv        },
      {"gives_way",       currents.gives_way      },
      {"lamps_at_once",   currents.lamps_at_once  }
  };
}

Json json_of(const std::vector<LineRow>& rows) {
  Json lines = Json::array();
  for (const LineRow& row : rows) {
    Json line = {
        {"text",      row.text     },
        {"when",      row.when     },
        {"bytes_max", row.bytes_max}
    };
    if (row.interval.ns > 0) {
      line["interval_ns"] = row.interval.ns;
      line["age_ns_max"] = row.age_max.ns;
    }
    lines.push_back(std::move(line));
  }
  return lines;
}

Json json_of(const Rates& rates) {
  return {
      {"to_game",                 json_of(rates.to_game)       },
      {"to_panel",                json_of(rates.to_panel)      },
      {"loop_ns",                 rates.loop.ns                },
      {"reading_ns",              rates.reading.ns             },
      {"wire_bytes_a_second",     rates.wire_bytes_a_second    },
      {"to_game_bytes_a_second",  rates.to_game_bytes_a_second },
      {"to_panel_lines_a_second", rates.to_panel_lines_a_second},
      {"age_ns_max",              rates.age_max.ns             },
      {"baud_error_ppm",          rates.baud_error_ppm         }
  };
}

Json json_of(const CheckReport& report) {
  static constexpr const char* kSeverities[] = {"note", "hint", "warning", "wrong"};
  Json pins = Json::array();
  for (const PinRow& row : report.pins)
    pins.push_back({
        {"pin",  row.pin },
        {"part", row.part},
        {"kind", row.kind}
    });
  Json remarks = Json::array();
  for (const Remark& remark : report.remarks) {
    remarks.push_back({
        {"severity", kSeverities[static_cast<int>(remark.severity)]},
        {"about",    remark.about                                  },
        {"text",     remark.text                                   },
        {"remedy",   remark.remedy                                 }
    });
  }
  return {
      {"panel",    report.name             },
      {"file",     report.file_name        },
      {"right",    !report.wrong()         },
      {"chip",     report.chip             },
      {"pins",     pins                    },
      {"currents", json_of(report.currents)},
      {"rates",    json_of(report.rates)   },
      {"remarks",  remarks                 },
      {"caution",  check_caution()         }
  };
}

// A file that cannot be read stands in the JSON as well, so that a program sees all of them.
Json json_of(const std::string& path, const Error& error) {
  return {
      {"file",  path      },
      {"right", false     },
      {"error", error.text}
  };
}

int check_all(const CheckOptions& options) {
  int status = kStatusFine;
  Json all = Json::array();
  std::string text;
  for (const std::string& path : options.panels) {
    const auto panel = load_panel_argument(path);
    if (!panel.ok()) {
      status = fail("check", panel.error());
      all.push_back(json_of(path, panel.error()));
      continue;
    }
    const CheckReport report = check(*panel.value());
    if (report.wrong()) status = kStatusUnusable;
    if (options.as_json)
      all.push_back(json_of(report));
    else
      text += (text.empty() ? "" : "\n") + written(report);
  }
  if (options.as_json) text = all.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
  std::fputs(text.c_str(), stdout);
  return status;
}

VerbRun declare_check(Arguments& arguments) {
  auto options = std::make_shared<CheckOptions>();
  arguments.positional("PANEL...", options->panels, "panel files");
  arguments.flag("--json", options->as_json, "the answer as a JSON list, one entry for each file");
  arguments.example("understudy check my.panel.toml");
  return [options] { return check_all(*options); };
}

}  // namespace

constinit const Verb verb_check{"check", VerbGroup::kDescribe,
                                "is it right: format, pins, currents, line rate against the wire",
                                declare_check};

}  // namespace understudy
