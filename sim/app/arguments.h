// The arguments of one verb: declared by the verb, parsed once, put where the verb wants them.
// A thin face over CLI11, so that only arguments.cpp pays for compiling it.
#pragma once

#include <concepts>
#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "sim/base/result.h"
#include "sim/base/time.h"

namespace understudy {

// Takes one value as written. An error's text says what would be right ("a time such as 20 ms");
// what was given and to which option is put before it.
using ArgumentReader = std::function<Result<Done>(std::string_view text)>;

// How a word of the command line becomes a value. Add an overload for a type of your own, in its
// namespace, and option() takes it.
Result<Done> read_argument(std::string_view text, std::string& into);
Result<Done> read_argument(std::string_view text, std::int64_t& into);   // decimal, whole
Result<Done> read_argument(std::string_view text, std::uint64_t& into);  // decimal, whole
Result<Done> read_argument(std::string_view text, int& into);            // decimal, whole
Result<Done> read_argument(std::string_view text, double& into);         // 2.5, never a comma
Result<Done> read_argument(std::string_view text, Duration& into);       // 20ms, 3s, 24h

template <class T>
Result<Done> read_argument(std::string_view text, std::optional<T>& into) {
  T value{};
  Result<Done> result = read_argument(text, value);
  if (result.ok()) into = std::move(value);
  return result;
}

// One declared argument, as the manual and shell completion see it.
struct DescribedArgument {
  std::string name;   // "--seed", or "PANEL" for one that goes by its place
  std::string value;  // "N"; empty for flags and for what goes by its place
  std::string help;
  std::string heading;  // empty for what goes by its place
  bool repeatable = false;
};

// All that a verb declared, in its order.
struct DescribedArguments {
  std::string usage;  // "understudy serve PANEL... [OPTIONS] [-- GAME ARGS...]"
  std::vector<DescribedArgument> all;
  std::vector<std::string> examples;
  bool game = false;  // takes a game after a lone "--"
};

// What may be written for a value is completed in shells by what it is called: PANEL is a panel
// file, FILE, RECORDING and PORT are files, words in lower case parted by | are those
// ("--play wander|sweep").
//
// Targets given by reference are written by parse() and must live until then; an absent option
// leaves its target as it was, so the target's first value is the default.
class Arguments {
 public:
  explicit Arguments(std::string_view verb, std::string_view summary);
  ~Arguments();
  Arguments(const Arguments&) = delete;
  Arguments& operator=(const Arguments&) = delete;

  // "--json" or "--quiet": present or not.
  void flag(std::string_view name, bool& into, std::string_view help);

  // "--seed N": name, a space, and what its value is called in the help. At most once.
  template <class T>
  void option(std::string_view name_and_value, T& into, std::string_view help) {
    option_read_by(name_and_value, reader(into), help);
  }
  void option_read_by(std::string_view name_and_value, ArgumentReader reader,
                      std::string_view help);

  // "--fault TEXT": may be given many times; each value is put at the end.
  void options(std::string_view name_and_value, std::vector<std::string>& into,
               std::string_view help);

  // "FILE" must be there, "[KEY]" may be; "PANEL..." takes one or more, "[PANEL...]" any number.
  void positional(std::string_view name, std::string& into, std::string_view help);
  void positional(std::string_view name, std::optional<std::string>& into, std::string_view help);
  void positional(std::string_view name, std::vector<std::string>& into, std::string_view help);

  // Everything after a lone "--": the game and its arguments. A verb that doesn't call this
  // refuses "--".
  void game(std::vector<std::string>& into);

  // All the words that parse() is given, for a verb that hands them on to another program.
  void keep_words(std::vector<std::string>& into);

  // Options declared after this stand under `title` in --help ("links", "recording").
  void heading(std::string_view title);

  // One line at the end of --help, shown as written, such as "understudy check my.panel.toml".
  void example(std::string_view line);

  // Reads the words that follow the verb. True: all is in place. False: `--help` was asked for,
  // nothing else was read.
  Result<bool> parse(const std::vector<std::string>& words);

  // The text of `understudy VERB --help`, ending in a line feed.
  [[nodiscard]] std::string help() const;

  [[nodiscard]] DescribedArguments described() const;

 private:
  template <class T>
  static ArgumentReader reader(T& into) {
    return [&into](std::string_view text) { return read_argument(text, into); };
  }
  struct Declared;
  void declare_positional(std::string_view written, ArgumentReader reader, std::string_view help);

  std::unique_ptr<Declared> declared_;
};

}  // namespace understudy
