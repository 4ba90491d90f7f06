// One byte at a time, as a board's loop does it.
#include "sim/manners/line_gatherer.h"

namespace understudy {

void LineGatherer::clear() {
  size_ = 0;
  inside_ = finished_ = too_long_ = false;
}

bool LineGatherer::add(char byte, char start, std::string_view ends) {
  if (finished_) clear();
  if (start != 0 && byte == start) {
    clear();
    inside_ = true;
    return false;
  }
  if (start != 0 && !inside_) return false;
  if (ends.find(byte) != std::string_view::npos) {
    while (size_ > 0 && bytes_[size_ - 1] == '\r') --size_;
    const bool whole = !too_long_;
    finished_ = true;
    return whole;
  }
  if (size_ < bytes_.size())
    bytes_[size_++] = byte;
  else
    too_long_ = true;
  finished_ = ends.empty();
  return finished_;
}

}  // namespace understudy
