// The area of the recording that is being made: its file, and marks.
#include <array>
#include <string>

#include "sim/window/area_parts.h"
#include "sim/window/area_rows.h"
#include "sim/window/places.h"

namespace understudy {
namespace {

constexpr std::string_view kMark = "area.recording.mark";

}  // namespace

void draw_recording(AreaContext& context) {
  const float unit = context.unit;
  ImGui::PushFont(context.type.typed);
  fitting_text(context.view.recording,
               ImGui::GetContentRegionAvail().x - label_width("Copy") - 12 * unit);
  ImGui::PopFont();
  ImGui::SameLine();
  copy_label("Copy##recording", context.view.recording);
  wrapped_text("All that passes is written here as it passes.", ink::kFaint);
  std::array<char, 200> letters{};
  const std::string kept = remembered_text(context.remembered, kMark, "");
  kept.copy(letters.data(), letters.size() - 1);
  ImGui::SetNextItemWidth(std::max(
      60 * unit, ImGui::GetContentRegionAvail().x - label_width("Mark this moment") - 12 * unit));
  const bool entered =
      ImGui::InputTextWithHint("##mark", "what happened here", letters.data(), letters.size(),
                               ImGuiInputTextFlags_EnterReturnsTrue);
  note_item("fields", "mark");
  remember_text(context.remembered, kMark, letters.data());
  ImGui::SameLine();
  if (!press("Mark this moment") && !entered) return;
  const std::string text(letters.data());
  context.wishes.push_back(WordsWish{"mark: " + (text.empty() ? "here" : text)});
  remember_text(context.remembered, kMark, "");
}

}  // namespace understudy
