// A program around the C++ panel reader that says what the reader made of its input; the same
// stands beside it in Python and C#, and readers_test.py and line_agreement_test.py compare them.
//   probe lines FIELDS FILE             one verdict per line of FILE, then totals over small pieces
//   probe live FIELDS ADDRESS FLAG LAMPS REST
//                                       while the file FLAG exists, a game of 60 frames a second
//                                       that reports each frame; its lamps: field 0 / 4, 255 while
//                                       field 1 is down, and REST for each of the others
#include <poll.h>
#include <unistd.h>

#include <chrono>
#include <cstdio>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "protocol/readers/panel_reader.h"

namespace {

using Clock = std::chrono::steady_clock;
constexpr int kFrameMs = 16;
constexpr size_t kPieceBytes = 7;

long microseconds_since(Clock::time_point then) {
  return (Clock::now() - then) / std::chrono::microseconds(1);
}

std::string values_of(const understudy::PanelReader& panel, size_t fields) {
  std::string text;
  for (size_t i = 0; i < fields; ++i) text += (i ? "," : "") + std::to_string(panel.value(i));
  return text;
}

void judge_lines(size_t fields, const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  const std::string bytes{std::istreambuf_iterator<char>(file), {}};
  understudy::PanelReader each(fields, "none");
  for (size_t at = 0; at < bytes.size();) {
    const size_t end = bytes.find('\n', at) + 1;
    const long before = each.good_lines;
    each.feed(std::string_view(bytes).substr(at, end - at));
    const bool good = each.good_lines > before;
    std::printf("%s\n", good ? ("good " + values_of(each, fields)).c_str() : "bad");
    at = end;
  }
  understudy::PanelReader all(fields, "none");
  for (size_t at = 0; at < bytes.size(); at += kPieceBytes)
    all.feed(std::string_view(bytes).substr(at, kPieceBytes));
  std::printf("total %ld %ld %s", all.good_lines, all.bad_lines, values_of(all, fields).c_str());
  for (size_t i = 0; i < fields; ++i) std::printf(" %d/%d", all.pressed(i), all.released(i));
  std::printf("\n");
}

void play(size_t fields, const char* address, const char* flag, std::vector<int> lamps) {
  static constexpr const char* kStates[] = {"silent", "stale", "fresh"};
  understudy::PanelReader panel(fields, address);
  while (access(flag, F_OK) == 0) {
    const Clock::time_point begun = Clock::now();
    panel.poll();
    lamps[0] = panel.value(0) / 4;
    lamps[1] = panel.down(1) ? 255 : 0;
    panel.set_lamps(lamps);
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
  if (count != 4 && count != 7) return 2;
  const size_t fields = std::stoul(words[2]);
  if (count == 4) judge_lines(fields, words[3]);
  if (count == 7) play(fields, words[3], words[4], lamps_of(words[5], words[6]));
  return 0;
}
