// Reads the command line and the two variables of options.h.
#include "scenarios/tram/game/options.h"

#include <CLI/CLI.hpp>
#include <cstdlib>
#include <map>

namespace understudy::tram {

namespace {

constexpr int kUnusableArguments = 2;

std::string address_from_environment() {
  for (const char* name : {"UNDERSTUDY_PORT", "UNDERSTUDY_TCP"}) {
    const char* value = std::getenv(name);
    if (value != nullptr && *value != '\0') return value;
  }
  return "";
}

}  // namespace

std::optional<Options> read_options(int count, char** arguments, int& status) {
  Options options;
  std::string reader = "careful";
  std::string weather = "changing";
  double for_ms = 0.0;
  double attract_ms = kIdle_s * 1000.0;
  const std::map<std::string, double> units{{"ms", 1.0}, {"s", 1e3}, {"min", 6e4}, {"h", 3.6e6}};

  CLI::App app("Drive the night tram, with a panel of real or virtual controls or the keyboard.",
               "tram-game");
  app.add_option("--port", options.address,
                 "the panel: a serial port's path, or host:port with a numeric host (else "
                 "UNDERSTUDY_PORT, else UNDERSTUDY_TCP, else the keyboard alone)");
  app.add_flag("--headless", options.headless,
               "no window: the same game in real time, one line of text a second");
  app.add_flag("--right", options.right,
               "the window in the right half of the display, beside the panel's");
  app.add_option("--reader", reader, "careful, or naive: how most first attempts read a panel")
      ->check(CLI::IsMember({"careful", "naive"}));
  app.add_option("--seed", options.evening.seed,
                 "what signals, people and weather do; same seed, same evening");
  app.add_option("--weather", weather, "clear, rain, fog or snow all night; else it changes")
      ->check(CLI::IsMember({"changing", "clear", "rain", "fog", "snow"}));
  app.add_option("--attract", attract_ms,
                 "when nobody has moved anything for so long, the tram drives itself and invites "
                 "to play: 45s unless said, 0s for never")
      ->transform(CLI::AsNumberWithUnit(units, CLI::AsNumberWithUnit::UNIT_REQUIRED));
  app.add_flag("--sound", options.sound,
               "begin with sound on (M turns it on and off); set the volume low first");
  app.add_option("--for", for_ms, "end by itself after this time: 500ms, 10s, 5min")
      ->transform(CLI::AsNumberWithUnit(units, CLI::AsNumberWithUnit::UNIT_REQUIRED));
  try {
    app.parse(count, arguments);
  } catch (const CLI::ParseError& error) {
    status = app.exit(error) == 0 ? 0 : kUnusableArguments;
    return std::nullopt;
  }
  options.naive = reader == "naive";
  options.for_s = for_ms / 1000.0;
  options.evening.sky = sky_named(weather);
  options.evening.attract_after_s = attract_ms / 1000.0;
  if (options.address.empty()) options.address = address_from_environment();
  return options;
}

}  // namespace understudy::tram
