// Asks, reads, and makes a draft of it. An empty answer takes what stands in brackets.
#include "sim/app/questions.h"

#include <algorithm>
#include <charconv>
#include <functional>

#include "sim/base/text.h"
#include "sim/panel/presets.h"

namespace understudy {
namespace {

constexpr std::size_t kAnswerBytesMax = 1'000;
constexpr const char* kNobodyAnswers =
    "standard input is empty, so nobody answers the questions; say it in one go: --pots 2 "
    "--buttons 2 --lamps 2, or --from-line '512,300,1,0'";

// One line without its ending; false at the end of the input.
bool read_line(std::FILE* in, std::string& line) {
  line.clear();
  for (int c = std::fgetc(in); c != EOF; c = std::fgetc(in)) {
    if (c == '\n') {
      if (line.ends_with('\r')) line.pop_back();
      return true;
    }
    if (line.size() < kAnswerBytesMax) line += static_cast<char>(c);
  }
  return !line.empty();
}

struct Asker {
  const Asking& asking;
  bool answered = false;  // the end of the input before any answer answers nothing, not everything
};

// Asks until take() is content, or the tries or the answers are at an end. take() gives "" or what
// would be right.
Result<Done> ask(Asker& asker, const std::string& question, const std::string& usual,
                 const std::function<std::string(const std::string&)>& take) {
  std::FILE* out = asker.asking.out;
  std::string said;
  for (int tries = 0; tries < kTriesMax; ++tries) {
    std::fputs((question + " [" + usual + "] ").c_str(), out);
    std::fflush(out);
    std::string answer;
    if (!read_line(asker.asking.in, answer)) {
      std::fputs("\n", out);
      if (!asker.answered) return Error{ErrorCode::kUnusable, kNobodyAnswers};
      if (!said.empty()) break;
    }
    asker.answered = true;
    const std::string right = take(answer.empty() ? usual : answer);
    if (right.empty()) return Done{};
    said = "\"" + printable(answer) + "\" is no answer; " + right;
    if (tries + 1 < kTriesMax) std::fputs((said + "\n").c_str(), out);
  }
  return Error{ErrorCode::kUnusable, question + " " + said};
}

Result<Done> ask_count(Asker& asker, const std::string& question, int usual, int most, int& count) {
  return ask(asker, question, std::to_string(usual), [&](const std::string& answer) {
    const char* end = answer.data() + answer.size();
    int value = 0;
    const auto [stop, code] = std::from_chars(answer.data(), end, value);
    const bool good = code == std::errc{} && stop == end && value >= 0 && value <= most;
    if (good) count = value;
    return good ? "" : "a whole number from 0 to " + std::to_string(most) + " would be";
  });
}

Result<Done> ask_board(Asker& asker, std::string& preset) {
  std::string question = "Which board?\n";
  int number = 0;
  for (const PresetText& one : presets())
    question += "  " + std::to_string(++number) + "  " + std::string(one.meaning) + "\n";
  return ask(asker, question + "Its number", "1", [&](const std::string& answer) -> std::string {
    for (std::size_t i = 0; i < presets().size(); ++i) {
      if (answer != std::to_string(i + 1) && answer != presets()[i].name) continue;
      preset = presets()[i].name;
      return "";
    }
    return "a number from 1 to " + std::to_string(presets().size()) + " would be";
  });
}

struct FurtherKind {
  std::string_view word;  // of one of them; "s" makes it several
  int PartCounts::*count;
};
constexpr FurtherKind kFurtherKinds[] = {{"selector", &PartCounts::selectors},
                                         {"stick", &PartCounts::sticks},
                                         {"encoder", &PartCounts::encoders},
                                         {"sensor", &PartCounts::sensors}};

// "2 encoders": its count goes into `counts`. False where it says nothing of the kind.
bool read_further_part(std::string_view text, PartCounts& counts) {
  int value = 0;
  const auto [stop, code] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (code != std::errc{} || value < 0) return false;
  std::string_view word = text.substr(static_cast<std::size_t>(stop - text.data()));
  word.remove_prefix(std::min(word.find_first_not_of(' '), word.size()));
  for (const FurtherKind& kind : kFurtherKinds) {
    if (word != kind.word && word != std::string(kind.word) + "s") continue;
    counts.*kind.count = value;
    return value <= kPartCountsMax.*kind.count;
  }
  return false;
}

// "1 selector, 2 encoders", or "none".
Result<Done> ask_further(Asker& asker, PartCounts& counts) {
  return ask(asker, "And selectors, sticks, encoders, sensors?", "none",
             [&](const std::string& answer) -> std::string {
               if (answer == "none" || answer == "0") return "";
               PartCounts read = counts;
               for (std::string_view rest = answer; !rest.empty();) {
                 const std::size_t comma = std::min(rest.find(','), rest.size());
                 std::string_view part = rest.substr(0, comma);
                 rest.remove_prefix(std::min(comma + 1, rest.size()));
                 part.remove_prefix(std::min(part.find_first_not_of(' '), part.size()));
                 while (part.ends_with(' ')) part.remove_suffix(1);
                 if (!read_further_part(part, read))
                   return "a list such as \"1 selector, 2 encoders\" would be, or none; of each at "
                          "most " +
                          std::to_string(kPartCountsMax.selectors);
               }
               counts = read;
               return "";
             });
}

}  // namespace

Result<Draft> ask_for_draft(const std::string& title, const Asking& asking) {
  Asker asker{asking};
  std::string called = title;
  std::string preset;
  PartCounts counts;
  constexpr PartCounts kMost = kPartCountsMax;
  const std::function<Result<Done>()> questions[] = {
      [&] {
        return ask(asker, "What is it called?", title, [&](const std::string& answer) {
          if (is_valid_utf8(answer)) called = answer;
          return is_valid_utf8(answer) ? "" : "a text in UTF-8 would be";
        });
      },
      [&] {
        return ask_count(asker, "How many pots, turned or slid?", 2, kMost.pots, counts.pots);
      },
      [&] {
        return ask_count(asker, "How many buttons, that spring back?", 2, kMost.buttons,
                         counts.buttons);
      },
      [&] {
        return ask_count(asker, "How many switches, that stay?", 0, kMost.switches,
                         counts.switches);
      },
      [&] { return ask_count(asker, "How many lamps?", 2, kMost.lamps, counts.lamps); },
      [&] { return ask_board(asker, preset); },
      [&] { return ask_further(asker, counts); },
  };
  for (const auto& question : questions) {
    const Result<Done> answered = question();
    if (!answered.ok()) return answered.error();
  }
  Result<Draft> draft = draft_of_counts(called, counts);
  if (!draft.ok()) return draft;
  draft.value().origin = "Made from seven answers.";
  draft.value().preset = preset;
  return draft;
}

}  // namespace understudy
