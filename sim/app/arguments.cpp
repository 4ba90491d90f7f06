// Declares and parses a verb's arguments with CLI11. Messages are our own, so that a mistake names
// the argument, what was given, and what would be right.
#include "sim/app/arguments.h"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <charconv>
#include <cmath>

#include "sim/base/text.h"
#include "sim/base/units.h"

namespace understudy {
namespace {

Error unusable(std::string text) {
  return {ErrorCode::kUnusable, std::move(text)};
}

template <class T>
Result<Done> read_number(std::string_view text, T& into, const char* right) {
  T value{};
  const char* end = text.data() + text.size();
  const auto [stop, code] = std::from_chars(text.data(), end, value);
  if (code != std::errc{} || stop != end) return unusable(right);
  into = value;
  return Done{};
}

// The part of "--seed N" before the space.
std::string_view name_of(std::string_view name_and_value) {
  return name_and_value.substr(0, name_and_value.find(' '));
}

// One argument of the help: its name, then its words, wrapped to 90 columns beside it.
std::string help_row(const std::string& name, const std::string& help) {
  constexpr std::size_t kNameColumns = 24;
  constexpr std::size_t kHelpColumns = 66;
  std::string text = "  " + name;
  if (text.size() + 2 > kNameColumns) text += "\n";
  std::size_t column = text.ends_with('\n') ? 0 : text.size();
  std::string rest = help;
  while (true) {
    text += std::string(kNameColumns - column, ' ');
    std::size_t cut = rest.size();
    if (cut > kHelpColumns) cut = std::min(rest.rfind(' ', kHelpColumns), cut);
    text += rest.substr(0, cut) + "\n";
    if (cut >= rest.size()) return text;
    rest.erase(0, cut + 1);
    column = 0;
  }
}

}  // namespace

Result<Done> read_argument(std::string_view text, std::string& into) {
  into = text;
  return Done{};
}

Result<Done> read_argument(std::string_view text, std::int64_t& into) {
  return read_number(text, into, "a whole number such as 12");
}

Result<Done> read_argument(std::string_view text, std::uint64_t& into) {
  return read_number(text, into, "a whole number from 0 up");
}

Result<Done> read_argument(std::string_view text, int& into) {
  return read_number(text, into, "a whole number such as 12");
}

Result<Done> read_argument(std::string_view text, double& into) {
  double value = 0;
  Result<Done> result = read_number(text, value, "a number such as 2.5");
  if (!result.ok()) return result;
  if (!std::isfinite(value)) return unusable("a number such as 2.5");
  into = value;
  return Done{};
}

Result<Done> read_argument(std::string_view text, Duration& into) {
  const std::optional<Duration> value = parse_duration(text);
  if (!value || value->ns < 0) return unusable(std::string(unit_example(Unit::kTime)));
  into = *value;
  return Done{};
}

struct Arguments::Declared {
  struct One {
    std::string name;   // as people write it: "--seed" or "PANEL"
    std::string shown;  // in the help: "--seed N"
    std::string help;
    std::string heading;
    CLI::Option* option;  // owned by `app`
    ArgumentReader reader;
    bool required = false;
    bool repeatable = false;
  };

  CLI::App app;
  std::string verb;
  std::string summary;
  std::string usage;  // positional arguments as declared
  std::string heading = "options";
  std::vector<One> all;
  std::vector<std::string>* game = nullptr;
  std::vector<std::string>* words = nullptr;  // kept
  std::vector<std::string> examples;

  [[nodiscard]] std::string usage_line() const {
    return "understudy " + verb + usage + " [OPTIONS]" + (game ? " [-- GAME ARGS...]" : "");
  }

  [[nodiscard]] std::string see_help() const { return " (see understudy " + verb + " --help)"; }

  // Says what is wrong with the first word that no declaration wanted.
  [[nodiscard]] Error unwanted(const std::string& word) const {
    if (word.size() < 2 || word[0] != '-') {
      return unusable("'" + word + "' is one argument too many" + see_help());
    }
    const std::string given = word.substr(0, word.find('='));
    std::vector<std::string> names{"--help"};
    for (const One& one : all) names.push_back(one.name);
    const std::string near = nearest_word(given, names);
    return unusable("there is no option " + given +
                    (near.empty() ? see_help() : "; the nearest is " + near));
  }

  // Hands one declared argument its words.
  [[nodiscard]] Result<Done> put(const One& one) const {
    const std::vector<std::string> words = one.option->results();
    if (words.empty() && one.required) return unusable(one.name + " is missing" + see_help());
    if (words.size() > 1 && !one.repeatable) return unusable(one.name + " is given twice");
    for (const std::string& word : words) {
      const Result<Done> result = one.reader(word);
      if (result.ok()) continue;
      return unusable(one.name + " is '" + printable(word) + "'; it takes " + result.error().text);
    }
    return Done{};
  }
};

Arguments::Arguments(std::string_view verb, std::string_view summary)
    : declared_(std::make_unique<Declared>()) {
  declared_->verb = verb;
  declared_->summary = summary;
  declared_->app.set_help_flag("-h,--help");
  declared_->app.allow_extras();
  declared_->app.allow_windows_style_options(false);  // a path may begin with a slash
}

Arguments::~Arguments() = default;

void Arguments::flag(std::string_view name, bool& into, std::string_view help) {
  CLI::Option* option = declared_->app.add_flag(std::string(name));
  option->multi_option_policy(CLI::MultiOptionPolicy::TakeAll)->disable_flag_override();
  const auto set = [&into](std::string_view) -> Result<Done> {
    into = true;
    return Done{};
  };
  declared_->all.push_back({.name = std::string(name),
                            .shown = std::string(name),
                            .help = std::string(help),
                            .heading = declared_->heading,
                            .option = option,
                            .reader = set,
                            .repeatable = true});
}

void Arguments::option_read_by(std::string_view name_and_value, ArgumentReader reader,
                               std::string_view help) {
  const std::string_view name = name_of(name_and_value);
  CHECK(name.size() < name_and_value.size(), "an option is declared as '--name VALUE'");
  CLI::Option* option = declared_->app.add_option(std::string(name));
  option->expected(1)->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
  option->allow_extra_args(false);
  declared_->all.push_back({.name = std::string(name),
                            .shown = std::string(name_and_value),
                            .help = std::string(help),
                            .heading = declared_->heading,
                            .option = option,
                            .reader = std::move(reader)});
}

void Arguments::options(std::string_view name_and_value, std::vector<std::string>& into,
                        std::string_view help) {
  const auto append = [&into](std::string_view text) -> Result<Done> {
    into.emplace_back(text);
    return Done{};
  };
  option_read_by(name_and_value, append, help);
  declared_->all.back().repeatable = true;
}

void Arguments::declare_positional(std::string_view written, ArgumentReader reader,
                                   std::string_view help) {
  std::string_view name = written;
  const bool optional = name.starts_with('[') && name.ends_with(']');
  if (optional) name = name.substr(1, name.size() - 2);
  const bool many = name.ends_with("...");
  if (many) name.remove_suffix(3);
  // CLI11 is told of no duty to be there: put() says in our words what is missing.
  CLI::Option* option = declared_->app.add_option(std::string(name));
  option->expected(1)->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
  option->allow_extra_args(many);
  declared_->usage += " " + std::string(written);
  declared_->all.push_back({.name = std::string(name),
                            .shown = std::string(name),
                            .help = std::string(help),
                            .heading = "",
                            .option = option,
                            .reader = std::move(reader),
                            .required = !optional,
                            .repeatable = many});
}

void Arguments::positional(std::string_view name, std::string& into, std::string_view help) {
  declare_positional(name, reader(into), help);
}

void Arguments::positional(std::string_view name, std::optional<std::string>& into,
                           std::string_view help) {
  declare_positional(name, reader(into), help);
}

void Arguments::positional(std::string_view name, std::vector<std::string>& into,
                           std::string_view help) {
  const auto append = [&into](std::string_view text) -> Result<Done> {
    into.emplace_back(text);
    return Done{};
  };
  declare_positional(name, append, help);
}

void Arguments::game(std::vector<std::string>& into) {
  declared_->game = &into;
}

void Arguments::keep_words(std::vector<std::string>& into) {
  declared_->words = &into;
}

void Arguments::heading(std::string_view title) {
  declared_->heading = title;
}

void Arguments::example(std::string_view line) {
  declared_->examples.emplace_back(line);
}

Result<bool> Arguments::parse(const std::vector<std::string>& words) {
  if (declared_->words != nullptr) *declared_->words = words;
  const auto dashes = std::find(words.begin(), words.end(), "--");
  if (dashes != words.end()) {
    const std::vector<std::string> game(dashes + 1, words.end());
    if (declared_->game == nullptr) {
      return unusable("'--' begins a game to run, and this verb runs none" + declared_->see_help());
    }
    if (game.empty()) return unusable("after '--' the game to run is missing");
    *declared_->game = game;
  }
  // CLI11 takes the words last first.
  std::vector<std::string> reversed(words.begin(), dashes);
  std::reverse(reversed.begin(), reversed.end());
  try {
    declared_->app.parse(std::move(reversed));
  } catch (const CLI::CallForHelp&) {
    return false;
  } catch (const CLI::ParseError& error) {
    return unusable(std::string(error.what()) + declared_->see_help());
  }
  const std::vector<std::string> unwanted = declared_->app.remaining();
  if (!unwanted.empty()) return declared_->unwanted(unwanted.front());
  for (const Declared::One& one : declared_->all) {
    const Result<Done> result = declared_->put(one);
    if (!result.ok()) return result.error();
  }
  return true;
}

std::string Arguments::help() const {
  const Declared& declared = *declared_;
  std::string text = "usage: " + declared.usage_line() + "\n\n" + declared.summary + "\n";
  std::vector<std::string> headings{""};
  for (const Declared::One& one : declared.all) {
    if (std::find(headings.begin(), headings.end(), one.heading) == headings.end()) {
      headings.push_back(one.heading);
    }
  }
  for (const std::string& heading : headings) {
    text += heading.empty() ? "\n" : "\n" + heading + "\n";
    for (const Declared::One& one : declared.all) {
      if (one.heading == heading) text += help_row(one.shown, one.help);
    }
  }
  if (declared.game != nullptr) {
    text += "\n" + help_row("-- GAME ARGS",
                            "the game to run; {port}, {host} and {tcp} in ARGS "
                            "are replaced");
  }
  if (!declared.examples.empty()) text += "\nexamples\n";
  for (const std::string& line : declared.examples) text += "  " + line + "\n";
  return text;
}

DescribedArguments Arguments::described() const {
  const Declared& declared = *declared_;
  DescribedArguments all{.usage = declared.usage_line(),
                         .examples = declared.examples,
                         .game = declared.game != nullptr};
  for (const Declared::One& one : declared.all) {
    const std::size_t value = one.shown.find(' ');
    all.all.push_back({.name = one.name,
                       .value = value == std::string::npos ? "" : one.shown.substr(value + 1),
                       .help = one.help,
                       .heading = one.heading,
                       .repeatable = one.repeatable});
  }
  return all;
}

}  // namespace understudy
