// Events kept for longer than a reader's views live, with their texts and their lines in the file.
#pragma once

#include <cstdint>
#include <cstring>
#include <memory>
#include <memory_resource>
#include <vector>

#include "sim/record/event.h"

namespace understudy {

struct KeptEvent {
  RecordedEvent event;
  std::int64_t line = 0;
};

// Texts live until clear(). Thread: one at a time.
class EventBatch {
 public:
  void add(const RecordedEvent& event, std::int64_t line) {
    kept_.push_back({event, line});
    std::visit([this](auto& it) { keep_texts(it); }, kept_.back().event.what);
  }
  void clear() {
    kept_.clear();
    text_bytes_ = 0;
    room_->release();
  }
  [[nodiscard]] const std::vector<KeptEvent>& events() const { return kept_; }
  [[nodiscard]] std::size_t text_bytes() const { return text_bytes_; }

 private:
  void keep(std::string_view& text) {
    if (text.empty()) return;
    char* const copy = static_cast<char*>(room_->allocate(text.size(), 1));
    std::memcpy(copy, text.data(), text.size());
    text = {copy, text.size()};
    text_bytes_ += text.size();
  }
  void keep_texts(recorded::ToGame& it) { keep(it.bytes); }
  void keep_texts(recorded::FromGame& it) { keep(it.bytes); }
  void keep_texts(recorded::OutputSet& it) {
    keep(it.output);
    keep(it.part);
  }
  void keep_texts(recorded::HandMoved& it) {
    keep(it.control);
    keep(it.part);
  }
  void keep_texts(recorded::HandTurned& it) {
    keep(it.control);
    keep(it.part);
  }
  void keep_texts(recorded::HandHeld& it) {
    keep(it.control);
    keep(it.part);
  }
  void keep_texts(recorded::PanelRead& it) {
    keep(it.panel);
    keep(it.resolved);
  }
  void keep_texts(recorded::Mark& it) { keep(it.text); }
  void keep_texts(recorded::Ended& it) { keep(it.reason); }
  template <class WithoutText>
  void keep_texts(WithoutText&) {}

  std::vector<KeptEvent> kept_;
  std::size_t text_bytes_ = 0;
  std::unique_ptr<std::pmr::monotonic_buffer_resource> room_ =
      std::make_unique<std::pmr::monotonic_buffer_resource>();
};

}  // namespace understudy
