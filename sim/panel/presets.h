// Boards by name: everything a panel file may leave out about its microcontroller, its wire and its
// host side. Where each number comes from is written in docs/models/boards.md.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "sim/model/panel_description.h"

namespace understudy {

inline constexpr std::string_view kDefaultPreset = "bootloader-8bit";
// The same as one word list of the key table.
inline constexpr std::string_view kPresetWords =
    "bootloader-8bit|bridge-16ms|native-usb-32bit|native-usb-8bit|large-8bit|boot-text";

struct PresetText {
  std::string_view name;
  std::string_view meaning;  // one sentence
};
std::span<const PresetText> presets();

// Sets board, wire and host of `panel`. False, and nothing changed, for an unknown name.
bool apply_preset(std::string_view name, PanelDescription& panel);

// What the computer adds by default to a wire of this kind.
HostDescription default_host(WireKind kind);

// The forward voltage of an LED of that colour in microvolts.
std::int64_t forward_uv_of(std::string_view colour);
inline constexpr std::string_view kColourWords = "red|orange|amber|yellow|green|blue|white";

}  // namespace understudy
