// A program around the C++ panel reader that says what the reader made of its input; the same
// stands beside it in each other language, and the tests here compare them.
//   probe lines [FIELDS FILE]...        one verdict per line of FILE, then totals over small pieces
//   probe shape FILE                    does what each line of FILE says, and prints all axes, or
//                                       the filter's value, after each that feeds something:
//                                         reader FIELDS | line SECONDS TEXT | learn_ends FIELD
//                                         calibrate FIELD LOW HIGH | centre FIELD MIDDLE DEAD
//                                         dead_ends FIELD DEAD | smooth FIELD CUTOFF BETA
//                                         euro CUTOFF BETA RATE_CUTOFF | sample SECONDS VALUE
//                                       after the locale's decimal point, where there is one
//   probe hour FLAG                     takes an hour of lines at once; says "warm" after a tenth,
//                                       "done LINES" at the end, and stays until FLAG is gone
//   probe live FIELDS ADDRESS FLAG LAMPS REST
//                                       while the file FLAG exists, a game of 60 frames a second
//                                       that reports each frame; its lamps: field 0 / 4, 255 while
//                                       field 1 is down, and REST for each of the others; and it
//                                       bears witness of field 0, whether field 1 is down, and 0.25
#include <poll.h>
#include <unistd.h>

#include <chrono>
#include <clocale>
#include <cstdio>
#include <fstream>
#include <iterator>
#include <memory>
#include <string>
#include <vector>

#include "protocol/readers/panel_reader.h"

namespace {

using Clock = std::chrono::steady_clock;
using understudy::PanelReader;
constexpr int kFrameMs = 16;
constexpr size_t kPieceBytes = 23;
constexpr int kHourLines = 180000;  // 50 a second

long microseconds_since(Clock::time_point then) {
  return (Clock::now() - then) / std::chrono::microseconds(1);
}

std::string values_of(const PanelReader& panel, size_t fields) {
  std::string text;
  for (size_t i = 0; i < fields; ++i) text += (i ? "," : "") + std::to_string(panel.value(i));
  return text;
}

void judge_lines(size_t fields, const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  const std::string bytes{std::istreambuf_iterator<char>(file), {}};
  PanelReader each(fields, "none");
  for (size_t at = 0; at < bytes.size();) {
    const size_t end = bytes.find('\n', at) + 1;
    const long before = each.good_lines;
    each.feed(std::string_view(bytes).substr(at, end - at));
    const bool good = each.good_lines > before;
    std::printf("%s\n", good ? ("good " + values_of(each, fields)).c_str() : "bad");
    at = end;
  }
  PanelReader all(fields, "none");
  for (size_t at = 0; at < bytes.size(); at += kPieceBytes)
    all.feed(std::string_view(bytes).substr(at, kPieceBytes));
  std::printf("total %ld %ld %s", all.good_lines, all.bad_lines, values_of(all, fields).c_str());
  for (size_t i = 0; i < fields; ++i) std::printf(" %d/%d", all.pressed(i), all.released(i));
  std::printf("\n");
}

// Twelve places and a point, whatever the locale says.
std::string plain(double number) {
  std::ostringstream text;
  text.imbue(std::locale::classic());
  text.setf(std::ios::fixed), text.precision(12);
  text << number;
  return text.str();
}

class Shaper {
 public:
  void obey(const std::string& order) {
    std::istringstream words(order);
    words.imbue(std::locale::classic());
    std::string verb, text;
    double a = 0, b = 0, c = 0;
    words >> verb >> a;
    if (verb == "line") return take_line(a, (words >> text, text));
    words >> b >> c;
    const auto field = static_cast<size_t>(a);
    if (verb == "reader") fields_ = field, panel_ = std::make_unique<PanelReader>(field, "none");
    if (verb == "calibrate") panel_->calibrate(field, static_cast<int>(b), static_cast<int>(c));
    if (verb == "centre") panel_->centre(field, static_cast<int>(b), c);
    if (verb == "dead_ends") panel_->dead_ends(field, b);
    if (verb == "learn_ends") panel_->learn_ends(field);
    if (verb == "smooth") panel_->smooth(field, b, c);
    if (verb == "euro") {
      filter_ = {};
      filter_.min_cutoff_hz = a, filter_.beta = b, filter_.rate_cutoff_hz = c;
    }
    if (verb == "sample") std::printf("%s\n", plain(filter_.filter(b, a)).c_str());
  }

 private:
  void take_line(double seconds, const std::string& text) {
    panel_->feed(text + "\n", seconds);
    for (size_t i = 0; i < fields_; ++i)
      std::printf("%s%s", i ? " " : "", plain(panel_->axis(i)).c_str());
    std::printf("\n");
  }

  size_t fields_ = 0;
  std::unique_ptr<PanelReader> panel_;
  understudy::OneEuro filter_;
};

void shape(const std::string& path) {
  std::printf("%s\n", std::localeconv()->decimal_point);
  std::ifstream file(path);
  Shaper shaper;
  for (std::string order; std::getline(file, order);) shaper.obey(order);
}

void live_an_hour(const char* flag) {
  PanelReader panel(3, "none");
  panel.learn_ends(0), panel.centre(1, 512, 0.1), panel.smooth(1);
  for (int n = 0; n < kHourLines; ++n) {
    if (n == kHourLines / 10) std::printf("warm\n"), std::fflush(stdout);
    const std::string good = std::to_string(n % 1024) + "," + std::to_string(n * 7 % 1024) + ",1\n";
    panel.feed(n % 10 ? good : std::string(300, 'x') + "\n", n / 50.0);
  }
  std::printf("done %ld\n", panel.good_lines), std::fflush(stdout);
  while (access(flag, F_OK) == 0) ::poll(nullptr, 0, kFrameMs);
}

void play(size_t fields, const char* address, const char* flag, std::vector<int> lamps) {
  static constexpr const char* kStates[] = {"silent", "stale", "fresh"};
  PanelReader panel(fields, address);
  while (access(flag, F_OK) == 0) {
    const Clock::time_point begun = Clock::now();
    panel.poll();
    lamps[0] = panel.value(0) / 4;
    lamps[1] = panel.down(1) ? 255 : 0;
    panel.set_lamps(lamps);
    panel.witness("in play", panel.value(0), panel.down(1), 0.25);
    std::printf("%ld %s %ld %ld %s %d %d %s\n", microseconds_since(begun),
                kStates[static_cast<int>(panel.state())], panel.good_lines, panel.bad_lines,
                values_of(panel, fields).c_str(), panel.pressed(1), panel.released(1),
                panel.trouble.c_str());
    std::fflush(stdout);
    ::poll(nullptr, 0, kFrameMs);
  }
}

std::vector<int> lamps_of(const char* count, const char* rest) {
  return std::vector<int>(std::stoul(count), std::stoi(rest));
}

}  // namespace

int main(int count, char** words) {
  std::setlocale(LC_ALL, "");
  const std::string verb = count > 2 ? words[1] : "";
  if (verb == "lines")
    for (int i = 2; i + 1 < count; i += 2) judge_lines(std::stoul(words[i]), words[i + 1]);
  else if (verb == "shape") shape(words[2]);
  else if (verb == "hour") live_an_hour(words[2]);
  else if (verb == "live" && count == 7)
    play(std::stoul(words[2]), words[3], words[4], lamps_of(words[5], words[6]));
  else return 2;
  return 0;
}
