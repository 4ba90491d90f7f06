// The verb `manual`: the manual page of the program, written from what the verbs declare. What is
// not in a declaration (statuses, environment) stands here once.
#include <cstdio>
#include <string>
#include <string_view>

#include "sim/app/completion.h"
#include "sim/app/program.h"

namespace understudy {
namespace {

constexpr const char* kDescription =
    R"(.SH DESCRIPTION
.B understudy
plays a home\-made game controller, a panel, from a description in a text file: a game opens a serial
port or a TCP port, reads the panel's lines there and drives its lamps, in the timing of the real
thing.
Each verb below explains itself with
.BR \-\-help .
)";

constexpr const char* kRest =
    R"(.SH EXIT STATUS
.TP
.B 0
fine
.TP
.B 1
a verification or the game failed
.TP
.B 2
unusable arguments or files
.TP
.B 3
a link or port failed
.TP
.BR 130 ", " 143
ended by SIGINT, by SIGTERM
.SH ENVIRONMENT
A game that is started after
.B \-\-
finds
.B UNDERSTUDY_PORT
(the path of its port),
.B UNDERSTUDY_TCP
(host:port) and
.B UNDERSTUDY_PANEL
(the panel file).
.SH FILES
.I ~/.config/understudy/window.txt
(with
.B XDG_CONFIG_HOME
in place of ~/.config where that is set) keeps what the window remembers: sizes, choices, recent files, gestures. It may be deleted.
.SH SEE ALSO
The guides that come with the program, in share/doc/understudy; begin with first\-half\-hour.md.
)";

// Text as roff shows it: backslashes, and dashes that can be typed. A line that begins with a dot
// or a quote would be a request.
std::string roff(std::string_view text) {
  std::string out;
  if (text.starts_with('.') || text.starts_with('\'')) out = "\\&";
  for (const char c : text) {
    if (c == '\\')
      out += "\\e";
    else if (c == '-')
      out += "\\-";
    else if (c == '\'')
      out += "\\(aq";
    else
      out += c;
  }
  return out;
}

std::string heading_of(VerbGroup group) {
  std::string heading(group_title(group));
  for (char& c : heading)
    if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
  return heading;
}

std::string verb_text(const DescribedVerb& verb) {
  std::string text = ".SS " + roff(verb.arguments.usage) + "\n" + roff(verb.summary) + "\n";
  for (const DescribedArgument& one : verb.arguments.all) {
    text +=
        ".TP\n.B " + roff(one.name) + (one.value.empty() ? "" : " \\fI" + roff(one.value) + "\\fR");
    text += "\n" + roff(one.help) + "\n";
  }
  if (verb.arguments.game)
    text +=
        ".TP\n.B \\-\\- \\fIGAME ARGS\\fR\nthe game to run; {port}, {host} and {tcp} in ARGS are "
        "replaced\n";
  for (const std::string& example : verb.arguments.examples)
    text += ".PP\nExample:\n.RS\n.nf\n" + roff(example) + "\n.fi\n.RE\n";
  return text;
}

int manual() {
  std::string text =
      ".\\\" Written by `understudy manual`.\n"
      ".TH UNDERSTUDY 1 \"\" \"understudy " UNDERSTUDY_VERSION
      "\" \"User Commands\"\n"
      ".SH NAME\nunderstudy \\- plays a home\\-made game controller for a game\n"
      ".SH SYNOPSIS\n.B understudy\n.I VERB\n.RI [ ARGUMENTS ]\n.br\n.B understudy\n.I VERB\n"
      ".B \\-\\-help\n.br\n.B understudy \\-\\-version\n";
  text += kDescription;
  std::string heading;
  for (const DescribedVerb& verb : describe(all_verbs())) {
    if (heading_of(verb.group) != heading) {
      heading = heading_of(verb.group);
      text += ".SH " + heading + "\n";
    }
    text += verb_text(verb);
  }
  std::fputs((text + kRest).c_str(), stdout);
  return kStatusFine;
}

VerbRun declare_manual(Arguments& arguments) {
  arguments.example("understudy manual | man -l -");
  return [] { return manual(); };
}

}  // namespace

constinit const Verb verb_manual{"manual", VerbGroup::kProgram,
                                 "all verbs and options as a manual page, for man", declare_manual};

}  // namespace understudy
