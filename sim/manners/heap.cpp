// A line that is built part by part in too little memory.
#include "sim/manners/heap.h"

#include <algorithm>

namespace understudy {
namespace {

// One of a number or word, whatever language the machine speaks.
bool belongs_to_word(char c) {
  return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '+' ||
         c == '-' || c == '.' || c == '_';
}

std::size_t end_of_part(std::span<const char> line, std::size_t begin) {
  std::size_t end = begin + 1;
  if (!belongs_to_word(line[begin])) return end;
  while (end < line.size() && belongs_to_word(line[end])) ++end;
  return end;
}

}  // namespace

std::int64_t largest_piece(const HeapDescription& heap, std::uint64_t lines) {
  const auto losses = static_cast<std::int64_t>(lines) / heap.lines;
  if (heap.lost_bytes > 0 && losses > heap.free_bytes / heap.lost_bytes) return 0;
  return heap.free_bytes - losses * heap.lost_bytes;
}

std::size_t leave_what_fits(std::span<char> line, std::int64_t piece_bytes) {
  const std::size_t most = piece_bytes > 0 ? static_cast<std::size_t>(piece_bytes - 1) : 0;
  if (line.size() <= most) return line.size();
  std::size_t size = 0;
  for (std::size_t begin = 0; begin < line.size();) {
    const std::size_t end = end_of_part(line, begin);
    if (size + (end - begin) <= most) {
      std::copy(line.data() + begin, line.data() + end, line.data() + size);
      size += end - begin;
    }
    begin = end;
  }
  return size;
}

}  // namespace understudy
