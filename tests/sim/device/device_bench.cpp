// The test bench for one device.
#include "tests/sim/device/device_bench.h"

#include <algorithm>
#include <cstdio>
#include <cstdlib>

#include "sim/model/kinds.h"
#include "sim/panel/panel_file.h"

namespace understudy {
namespace {

std::shared_ptr<const Panel> value_or_end(Result<std::shared_ptr<const Panel>> result) {
  if (!result.ok()) {
    std::fprintf(stderr, "the test's own panel is wrong:\n%s\n", result.error().text.c_str());
    std::abort();
  }
  return result.value();
}

[[noreturn]] void end_without(std::string_view name) {
  std::fprintf(stderr, "the test's own panel has no '%.*s'\n", static_cast<int>(name.size()),
               name.data());
  std::abort();
}

// Of "power" or "stick.x".
HandAction hand_of(const PanelDescription& panel, std::string_view name) {
  for (std::size_t i = 0; i < panel.controls.size(); ++i) {
    const auto parts = hand_parts(panel.controls[i]);
    for (std::size_t part = 0; part < parts.size(); ++part)
      if (part_name(panel.controls[i].name, parts[part].name) == name)
        return {.control = static_cast<std::uint16_t>(i), .part = static_cast<std::uint8_t>(part)};
  }
  end_without(name);
}

}  // namespace

std::shared_ptr<const Panel> panel_of(std::string_view text) {
  return value_or_end(parse_panel(text, "test.panel.toml"));
}

std::shared_ptr<const Panel> tram_panel() {
  return value_or_end(load_panel(UNDERSTUDY_SOURCE_ROOT "/scenarios/tram/tram.panel.toml"));
}

DeviceBench::DeviceBench(std::shared_ptr<const Panel> panel, DeviceOptions options)
    : panel_(std::move(panel)), device_(panel_, options) {}

DeviceBench::DeviceBench(std::string_view panel_text, DeviceOptions options)
    : DeviceBench(panel_of(panel_text), std::move(options)) {}

void DeviceBench::open(bool dtr, bool takes_at_once) {
  add(LinkOpened{.dtr = dtr, .takes_at_once = takes_at_once});
}

void DeviceBench::move(std::string_view control, std::int32_t to_ppm, Duration duration,
                       Curve curve) {
  HandAction action = hand_of(panel_->description, control);
  action.to_ppm = to_ppm;
  action.duration = duration;
  action.curve = curve;
  add(action);
}

void DeviceBench::run(Duration length) {
  std::stable_sort(inputs_.begin(), inputs_.end(),
                   [](const Input& a, const Input& b) { return class_of(a) < class_of(b); });
  device_.step(device_.now() + length, inputs_, outputs_);
  inputs_.clear();
}

std::vector<std::string> DeviceBench::lines() const {
  std::vector<std::string> lines;
  std::size_t begin = 0;
  for (std::size_t end = received().find('\n'); end != std::string::npos;
       end = received().find('\n', begin)) {
    lines.push_back(received().substr(begin, end - begin));
    begin = end + 1;
  }
  return lines;
}

std::int64_t DeviceBench::shown(std::string_view output) const {
  const auto field = protocol::find_field(panel_->to_panel_fields, output);
  if (!field) end_without(output);
  return device_.output_number(*field);
}

std::int64_t DeviceBench::noted(NoteKind kind) const {
  std::int64_t sum = 0;
  for (const Note& note : outputs_.notes)
    if (note.kind == kind) sum += note.count;
  return sum;
}

std::size_t DeviceBench::notes(NoteKind kind) const {
  return static_cast<std::size_t>(
      std::count_if(outputs_.notes.begin(), outputs_.notes.end(),
                    [&](const Note& note) { return note.kind == kind; }));
}

Instant handed_over_at(const StepOutputs& outputs, std::size_t i) {
  for (const Chunk& chunk : outputs.chunks)
    if (i < chunk.first + chunk.size) return chunk.due;
  return kNever;
}

}  // namespace understudy
