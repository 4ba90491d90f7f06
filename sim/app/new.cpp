// `new NAME`: writes a commented panel file, learnt from a line or a recording, or told by six
// answers on standard input. What is learnt and how it is written is sim/panel's work.
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <memory>

#include "sim/app/questions.h"
#include "sim/app/verb.h"
#include "sim/panel/panel_file.h"
#include "sim/panel/samples.h"

namespace understudy {
namespace {

constexpr std::string_view kSuffix = ".panel.toml";
constexpr std::size_t kLearnBytesMax = 64'000'000;

struct NewOptions {
  std::string name;
  std::optional<std::string> line;
  std::optional<std::string> recording;
  bool force = false;
};

using File = std::unique_ptr<std::FILE, int (*)(std::FILE*)>;

Error unusable(std::string text) {
  return {ErrorCode::kUnusable, std::move(text)};
}

// "games/tram_desk" -> "Tram desk"
std::string title_of(const std::string& name) {
  std::string title = name.substr(name.find_last_of('/') + 1);
  for (char& c : title)
    if (c == '_' || c == '-') c = ' ';
  if (!title.empty() && title[0] >= 'a' && title[0] <= 'z')
    title[0] = static_cast<char>(title[0] - 'a' + 'A');
  return title;
}

Result<std::string> read_whole(const std::string& path) {
  const File file(std::fopen(path.c_str(), "rb"), std::fclose);
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

Result<Draft> drafted(const NewOptions& options, const std::string& title) {
  if (options.line && options.recording)
    return unusable("--from-line and --from-recording are two ways; choose one");
  if (options.line) {
    const auto samples = samples_of_line(*options.line);
    if (!samples.ok()) return samples.error();
    auto draft = learn(samples.value(), title);
    if (draft.ok()) draft.value().origin = "Guessed from one line.";
    return draft;
  }
  if (options.recording) {
    const auto text = read_whole(*options.recording);
    if (!text.ok()) return text.error();
    const auto samples = samples_of_file(text.value(), *options.recording);
    if (!samples.ok()) return samples.error();
    auto draft = learn(samples.value(), title);
    if (draft.ok())
      draft.value().origin =
          "Guessed from " + std::to_string(samples.value().to_game.size()) + " lines.";
    return draft;
  }
  return ask_for_draft(title,
                       {.in = stdin, .out = stderr, .asks_again = isatty(STDIN_FILENO) == 1});
}

// Never writes over a file that is there, unless told to.
Result<Done> write_file(const std::string& path, const std::string& text, bool force) {
  const File file(std::fopen(path.c_str(), force ? "wb" : "wbx"), std::fclose);
  if (!file && errno == EEXIST)
    return unusable("cannot write " + path +
                    ": it is there already; choose another name, or "
                    "--force to write over it");
  if (!file) return unusable("cannot write " + path + ": " + std::strerror(errno));
  const bool written = std::fwrite(text.data(), 1, text.size(), file.get()) == text.size();
  if (!written || std::fflush(file.get()) != 0)
    return unusable("cannot write " + path + ": " + std::strerror(errno));
  return Done{};
}

void tell(const Draft& draft, const std::string& path) {
  std::string text = "wrote " + path + "\n";
  for (const DraftControl& control : draft.controls) {
    static constexpr const char* kKinds[] = {"pot", "button", "switch"};
    text += "  " + std::string(kKinds[static_cast<int>(control.kind)]) + " " + control.name + "\n";
  }
  for (const DraftOutput& output : draft.outputs) text += "  lamp " + output.name + "\n";
  for (const std::string& remark : draft.remarks) text += "  " + remark + "\n";
  text += "next: understudy check " + path + "\nthen: understudy serve " + path + "\n";
  std::fputs(text.c_str(), stdout);
}

int make_new(const NewOptions& options) {
  std::string stem = options.name;
  if (stem.ends_with(kSuffix)) stem.resize(stem.size() - kSuffix.size());
  if (stem.empty() || stem.ends_with('/'))
    return fail("new",
                unusable("NAME is '" + options.name + "'; it takes a name such as tram_desk"));
  const std::string path = stem + std::string(kSuffix);
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

VerbRun declare_new(Arguments& arguments) {
  auto options = std::make_shared<NewOptions>();
  arguments.positional("NAME", options->name, "NAME.panel.toml is written");
  arguments.option("--from-line LINE", options->line,
                   "guess the panel from one line that it sends");
  arguments.option("--from-recording FILE", options->recording,
                   "guess it from a recording or a text file of lines");
  arguments.flag("--force", options->force, "write over a file that is there");
  arguments.example("understudy new tram_desk --from-line '512,300,1,0'");
  arguments.example("understudy new tram_desk      (asks six questions)");
  return [options] { return make_new(*options); };
}

}  // namespace

constinit const Verb verb_new{"new", VerbGroup::kDescribe,
                              "a commented panel file: from a line, a recording, or six questions",
                              declare_new};

}  // namespace understudy
