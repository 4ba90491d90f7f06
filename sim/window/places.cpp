// Gathers the boxes of one frame and writes them where they differ from those before.
#include "sim/window/places.h"

#include <fmt/format.h>

#include <cstdio>
#include <memory>

#include "sim/base/open_file.h"

namespace understudy {
namespace {

std::string quoted(std::string_view text) {
  std::string quoted = "\"";
  for (const char letter : text) {
    if (letter == '"' || letter == '\\') quoted += '\\';
    if (static_cast<unsigned char>(letter) >= ' ') quoted += letter;
  }
  return quoted + '"';
}

}  // namespace

Places::Places(std::string file) : file_(std::move(file)) {}

void Places::begin(ImVec2 window_origin) {
  origin_ = window_origin;
  noted_.clear();
}

void Places::note(std::string_view kind, std::string_view name, ImVec2 least, ImVec2 most) {
  if (most.x <= least.x || most.y <= least.y) return;
  noted_[std::string(kind)][std::string(name)] = {origin_.x + least.x, origin_.y + least.y,
                                                  origin_.x + most.x, origin_.y + most.y};
}

void Places::end() {
  std::string text = "{";
  for (const auto& [kind, boxes] : noted_) {
    text += (text.size() > 1 ? ",\n" : "\n") + quoted(kind) + ": {";
    const char* before = "";
    for (const auto& [name, box] : boxes) {
      text += fmt::format("{}\n  {}: [{:.0f}, {:.0f}, {:.0f}, {:.0f}]", before, quoted(name), box.x,
                          box.y, box.z, box.w);
      before = ",";
    }
    text += "}";
  }
  text += "\n}\n";
  if (text == written_) return;
  const std::string beside = file_ + ".new";
  {
    const std::unique_ptr<std::FILE, int (*)(std::FILE*)> file(
        open_file(beside, FileUse::kOverwrite), std::fclose);
    if (!file || std::fputs(text.c_str(), file.get()) < 0) return;
  }
  if (std::rename(beside.c_str(), file_.c_str()) == 0) written_ = std::move(text);
}

void note_place(std::string_view kind, std::string_view name, ImVec2 least, ImVec2 most) {
  if (auto* places = static_cast<Places*>(ImGui::GetIO().UserData))
    places->note(kind, name, least, most);
}

void note_item(std::string_view kind, std::string_view label) {
  note_place(kind, label.substr(0, label.find("##")), ImGui::GetItemRectMin(),
             ImGui::GetItemRectMax());
}

}  // namespace understudy
