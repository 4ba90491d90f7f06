// What is peculiar to a kind of output: what never reaches it, what it cannot show.
#include <algorithm>

#include "sim/panel/check_report.h"

namespace understudy {
namespace {

// Nobody hears less; where hearing begins according to ISO 226.
constexpr std::int64_t kHeardHzMin = 20;

// A reader that looks for digits alone knows neither words nor points.
void check_reader(const OutputDescription& output, Parsing parse, std::vector<Remark>& remarks) {
  const bool careless = parse == Parsing::kIntegersInARow || parse == Parsing::kBetweenMarkers;
  const Sends& takes = output.sends;
  if (!careless || (takes.words.empty() && takes.decimals == 0)) return;
  const std::string reader = parse == Parsing::kIntegersInARow ? "parse = \"integers in a row\" "
                                                               : "parse = \"between markers\" ";
  const std::string what = takes.words.empty()
                               ? "makes two numbers of one with a point: 0.50 becomes 0 and 50"
                               : "finds no words in a line: what the game says changes nothing";
  remarks.push_back({Severity::kWarning, output.name, reader + what, "parse = \"whole line\""});
}

// How many digits a number takes, with the 0 before its point and a minus.
int digits_of(std::int64_t number, int decimals) {
  const int minus = number < 0 ? 1 : 0;
  int count = 1;
  for (; number / 10 != 0; number /= 10) ++count;
  return std::max(count, decimals + 1) + minus;
}

void check_digits(const OutputDescription& output, std::vector<Remark>& remarks) {
  const Sends& takes = output.sends;
  if (output.kind != OutputKind::kDigits || !takes.words.empty()) return;
  const int needed =
      std::max(digits_of(takes.low, takes.decimals), digits_of(takes.high, takes.decimals));
  if (needed <= output.digits.count) return;
  std::string remedy = "a narrower takes";
  if (needed <= kDigitsMax) remedy = "digits = " + std::to_string(needed) + ", or " + remedy;
  remarks.push_back({Severity::kWarning, output.name,
                     "what it takes needs " + std::to_string(needed) + " digits, and it has " +
                         std::to_string(output.digits.count),
                     remedy});
}

void check_pitch(const OutputDescription& output, std::vector<Remark>& remarks) {
  if (output.kind != OutputKind::kBuzzer || !output.buzzer.pitched) return;
  std::int64_t highest_hz = std::max(output.sends.low, output.sends.high);
  for (int i = 0; i < output.sends.decimals; ++i) highest_hz /= 10;
  if (highest_hz >= kHeardHzMin) return;
  remarks.push_back(
      {Severity::kWarning, output.name,
       "its highest pitch is " + std::to_string(highest_hz) + " Hz, which nobody hears",
       "takes = [0, 5000], or sounds = \"by itself\" to be on or off"});
}

}  // namespace

void check_outputs(const PanelDescription& panel, std::vector<Remark>& remarks) {
  for (const OutputDescription& output : panel.outputs) {
    check_reader(output, panel.manners.parse, remarks);
    check_digits(output, remarks);
    check_pitch(output, remarks);
  }
}

}  // namespace understudy
