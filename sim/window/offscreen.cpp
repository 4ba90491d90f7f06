// A context of ImGui, typefaces and a renderer in memory, without SDL's part.
#include "sim/window/offscreen.h"

#include <fmt/format.h>
#include <stb/stb_image_write.h>

#include <cerrno>
#include <cstdio>
#include <cstring>

#include "sim/base/open_file.h"

namespace understudy {

struct Offscreen::State {
  explicit State(const Options& wanted) : options(wanted), renderer(wanted.width, wanted.height) {}
  Options options;
  MemoryRenderer renderer;
  ImGuiContext* context = nullptr;
  Typefaces type;

  void bake() {
    ImFontAtlas& atlas = *ImGui::GetIO().Fonts;
    type = bake_typefaces(atlas, {.unit = options.unit, .engraved_px = options.engraved_px});
    ImGui::GetIO().FontDefault = type.text;
    renderer.take_atlas(atlas);
  }
};

Offscreen::Offscreen(const Options& options) : state_(std::make_unique<State>(options)) {
  state_->context = ImGui::CreateContext();
  ImGuiIO& io = ImGui::GetIO();
  io.IniFilename = nullptr;
  io.LogFilename = nullptr;
  io.BackendFlags |= ImGuiBackendFlags_RendererHasVtxOffset;
  state_->bake();
  put_on_paper(ImGui::GetStyle(), options.unit);
}

Offscreen::~Offscreen() {
  ImGui::DestroyContext(state_->context);
}

Textures& Offscreen::textures() {
  return state_->renderer;
}

const Typefaces& Offscreen::type() const {
  return state_->type;
}

void Offscreen::fit_legends(float engraved_px) {
  if (engraved_px == state_->options.engraved_px) return;
  state_->options.engraved_px = engraved_px;
  state_->bake();
}

Bitmap Offscreen::draw(const std::function<void()>& frame) {
  draw_only(frame);
  return state_->renderer.picture();
}

void Offscreen::draw_only(const std::function<void()>& frame) {
  ImGuiIO& io = ImGui::GetIO();
  io.DisplaySize =
      ImVec2(static_cast<float>(state_->options.width), static_cast<float>(state_->options.height));
  io.DeltaTime = state_->options.frame_seconds;
  ImGui::NewFrame();
  frame();
  ImGui::Render();
  state_->renderer.draw(*ImGui::GetDrawData(), ink::kPaper);
}

void Offscreen::card(const char* name, ImVec2 at, ImVec2 size,
                     const std::function<void()>& content) {
  ImGui::SetNextWindowPos(at);
  ImGui::SetNextWindowSize(size);
  ImGui::Begin(name, nullptr, ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoSavedSettings);
  content();
  ImGui::End();
}

Result<Done> write_png(const Bitmap& bitmap, const std::string& path) {
  const auto refused = [&path] {
    return Error{ErrorCode::kUnusable,
                 fmt::format("the picture {} cannot be written: {}", path, std::strerror(errno))};
  };
  std::FILE* file = open_file(path, FileUse::kOverwrite);
  if (file == nullptr) return refused();
  bool good = true;
  struct Writing {
    std::FILE* file;
    bool* good;
  } writing{file, &good};
  const auto write = [](void* context, void* data, int size) {
    const auto& to = *static_cast<Writing*>(context);
    const auto bytes = static_cast<std::size_t>(size);
    if (std::fwrite(data, 1, bytes, to.file) != bytes) *to.good = false;
  };
  const int encoded = stbi_write_png_to_func(write, &writing, bitmap.width, bitmap.height, 4,
                                             bitmap.rgba.data(), bitmap.width * 4);
  if (std::fclose(file) != 0 || encoded == 0) good = false;
  if (!good) return refused();
  return Done{};
}

}  // namespace understudy
