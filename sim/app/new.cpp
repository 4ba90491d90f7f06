// `new NAME`: writes a commented panel file, learnt from a line or a recording, told by counts of
// its parts, or by seven answers on standard input. What is learnt and how it is written is
// sim/panel's work.
#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <memory>

#include "sim/app/panel_argument.h"
#include "sim/app/questions.h"
#include "sim/app/utf8_path.h"
#include "sim/app/verb.h"
#include "sim/base/open_file.h"
#include "sim/model/kinds.h"
#include "sim/panel/panel_file.h"
#include "sim/panel/samples.h"

namespace understudy {
namespace {

constexpr std::size_t kLearnBytesMax = 64'000'000;

struct NewOptions {
  std::string name;
  std::optional<std::string> line;
  std::optional<std::string> recording;
  std::optional<int> pots;
  std::optional<int> buttons;
  std::optional<int> switches;
  std::optional<int> selectors;
  std::optional<int> sticks;
  std::optional<int> encoders;
  std::optional<int> sensors;
  std::optional<int> lamps;
  bool force = false;

  [[nodiscard]] bool counts_controls() const {
    return pots || buttons || switches || selectors || sticks || encoders || sensors;
  }
};

using File = std::unique_ptr<std::FILE, int (*)(std::FILE*)>;

Error unusable(std::string text) {
  return {ErrorCode::kUnusable, std::move(text)};
}

// "games/tram_desk" -> "Tram desk"
std::string title_of(const std::string& name) {
  std::string title = text_of(path_of(name).filename());
  for (char& c : title)
    if (c == '_' || c == '-') c = ' ';
  if (!title.empty() && title[0] >= 'a' && title[0] <= 'z')
    title[0] = static_cast<char>(title[0] - 'a' + 'A');
  return title;
}

Result<std::string> read_whole(const std::string& path) {
  const File file(open_file(path, FileUse::kRead), std::fclose);
  if (!file) return unusable("cannot read " + path + ": " + std::strerror(errno));
  std::string text;
  char piece[65'536];
  while (const std::size_t size = std::fread(piece, 1, sizeof piece, file.get())) {
    text.append(piece, size);
    if (text.size() > kLearnBytesMax)
      return unusable("cannot learn from " + path + ": it has more than 64 MB; a minute is enough");
  }
  if (std::ferror(file.get())) return unusable("cannot read " + path + ": " + std::strerror(errno));
  return text;
}

Result<Draft> learnt_from_line(const std::string& line, const std::string& title) {
  const auto samples = samples_of_line(line);
  if (!samples.ok()) return samples.error();
  auto draft = learn(samples.value(), title);
  if (draft.ok()) draft.value().origin = "Guessed from one line.";
  return draft;
}

Result<Draft> learnt_from_file(const std::string& path, const std::string& title) {
  const auto text = read_whole(path);
  if (!text.ok()) return text.error();
  const auto samples = samples_of_file(text.value(), path);
  if (!samples.ok()) return samples.error();
  auto draft = learn(samples.value(), title);
  if (draft.ok())
    draft.value().origin =
        "Guessed from " + std::to_string(samples.value().to_game.size()) + " lines.";
  return draft;
}

// A line to the game does not show lamps: their number may come beside it.
Result<Draft> with_lamps(Result<Draft> draft, std::optional<int> lamps) {
  if (!draft.ok() || !lamps) return draft;
  if (!draft.value().outputs.empty())
    return unusable("the recording shows lamps already; leave --lamps out");
  draft.value().outputs = numbered_lamps(*lamps);
  return draft;
}

Result<Draft> drafted(const NewOptions& options, const std::string& title) {
  if (options.line && options.recording)
    return unusable("--from-line and --from-recording are two ways; choose one");
  if ((options.line || options.recording) && options.counts_controls())
    return unusable("the lines show what controls there are; only --lamps goes with them");
  if (options.line) return with_lamps(learnt_from_line(*options.line, title), options.lamps);
  if (options.recording)
    return with_lamps(learnt_from_file(*options.recording, title), options.lamps);
  if (!options.counts_controls() && !options.lamps)
    return ask_for_draft(title, {.in = stdin, .out = stderr});
  return draft_of_counts(title, {.pots = options.pots.value_or(0),
                                 .buttons = options.buttons.value_or(0),
                                 .switches = options.switches.value_or(0),
                                 .selectors = options.selectors.value_or(0),
                                 .sticks = options.sticks.value_or(0),
                                 .encoders = options.encoders.value_or(0),
                                 .sensors = options.sensors.value_or(0),
                                 .lamps = options.lamps.value_or(0)});
}

Error there_already(const std::string& path) {
  return unusable("cannot write " + path +
                  ": it is there already; choose another name, or "
                  "--force to write over it");
}

// Never writes over a file that is there, unless told to.
Result<Done> write_file(const std::string& path, const std::string& text, bool force) {
  const File file(open_file(path, force ? FileUse::kOverwrite : FileUse::kMake), std::fclose);
  if (!file && errno == EEXIST) return there_already(path);
  if (!file) return unusable("cannot write " + path + ": " + std::strerror(errno));
  const bool written = std::fwrite(text.data(), 1, text.size(), file.get()) == text.size();
  if (!written || std::fflush(file.get()) != 0)
    return unusable("cannot write " + path + ": " + std::strerror(errno));
  return Done{};
}

// As a word of a POSIX shell's command.
std::string shell_word(const std::string& text) {
  const auto plain = [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
           std::string_view("_-./+=:,@%").find(c) != std::string_view::npos;
  };
  if (std::all_of(text.begin(), text.end(), plain)) return text;
  std::string word = "'";
  for (const char c : text) word += c == '\'' ? std::string("'\\''") : std::string(1, c);
  return word + "'";
}

void tell(const Draft& draft, const std::string& path) {
  std::string text = "wrote " + path + "\n";
  for (const DraftControl& control : draft.controls)
    text += "  " + std::string(kind_word(control.kind)) + " " + control.name + "\n";
  for (const DraftOutput& output : draft.outputs) text += "  lamp " + output.name + "\n";
  if (draft.outputs.empty()) {
    text +=
        "  No lamps are described: give --lamps N (with --force to write it anew), or take the #\n"
        "  away at [[output]] in the file.\n";
  }
  for (const std::string& remark : draft.remarks) text += "  " + remark + "\n";
  text += "next: understudy check " + shell_word(path) + "\n";
  text += "then: understudy serve " + shell_word(path) + "\n";
  std::fputs(text.c_str(), stdout);
}

int make_new(const NewOptions& options) {
  std::string stem = options.name;
  if (stem.ends_with(kPanelSuffix)) stem.resize(stem.size() - kPanelSuffix.size());
  if (stem.empty() || stem.ends_with('/'))
    return fail("new",
                unusable("NAME is '" + options.name + "'; it takes a name such as tram_desk"));
  const std::string path = stem + std::string(kPanelSuffix);
  std::error_code unseen;
  if (!options.force && std::filesystem::exists(path_of(path), unseen))
    return fail("new", there_already(path));
  const Result<Draft> draft = drafted(options, title_of(stem));
  if (!draft.ok()) return fail("new", draft.error());
  const std::string text = draft_toml(draft.value());
  // What is written must be right: a mistake here is ours, but is told like any other.
  const auto panel = parse_panel(text, path);
  if (!panel.ok()) return fail("new", panel.error());
  const auto written = write_file(path, text, options.force);
  if (!written.ok()) return fail("new", written.error());
  tell(draft.value(), path);
  return kStatusFine;
}

// A count of parts from 0 to `most`.
void declare_count(Arguments& arguments, const char* name, std::optional<int>& into, int most,
                   const char* help) {
  arguments.option_read_by(
      name,
      [&into, most](std::string_view text) -> Result<Done> {
        const Result<Done> read = read_argument(text, into);
        if (read.ok() && *into >= 0 && *into <= most) return Done{};
        return unusable("a whole number from 0 to " + std::to_string(most));
      },
      help);
}

VerbRun declare_new(Arguments& arguments) {
  auto options = std::make_shared<NewOptions>();
  arguments.positional("NAME", options->name, "NAME.panel.toml is written");
  arguments.option("--from-line LINE", options->line,
                   "guess the panel from one line that it sends");
  arguments.option("--from-recording FILE", options->recording,
                   "guess it from a recording or a text file of lines");
  declare_count(arguments, "--pots N", options->pots, kPartCountsMax.pots,
                "pots, turned or slid; with a count nothing is asked");
  declare_count(arguments, "--buttons N", options->buttons, kPartCountsMax.buttons,
                "buttons, that spring back");
  declare_count(arguments, "--switches N", options->switches, kPartCountsMax.switches,
                "switches, that stay");
  declare_count(arguments, "--selectors N", options->selectors, kPartCountsMax.selectors,
                "selectors, rotary switches of several places");
  declare_count(arguments, "--sticks N", options->sticks, kPartCountsMax.sticks,
                "sticks, that tilt two ways and press");
  declare_count(arguments, "--encoders N", options->encoders, kPartCountsMax.encoders,
                "encoders, that turn without ends");
  declare_count(arguments, "--sensors N", options->sensors, kPartCountsMax.sensors,
                "sensors, that measure by themselves");
  declare_count(arguments, "--lamps N", options->lamps, kPartCountsMax.lamps,
                "lamps; goes with --from-line as well");
  arguments.flag("--force", options->force, "write over a file that is there");
  arguments.example("understudy new tram_desk --from-line '512,300,1,0' --lamps 4");
  arguments.example("understudy new pad --pots 2 --buttons 6 --switches 0 --lamps 4");
  arguments.example("understudy new tram_desk      (asks seven questions)");
  return [options] { return make_new(*options); };
}

}  // namespace

constinit const Verb verb_new{
    "new", VerbGroup::kDescribe,
    "a commented panel file: from a line, a recording, counts, or questions", declare_new};

}  // namespace understudy
