// Panel files: read, checked, compiled, and written out in full. The door of this folder; every
// key is described in docs/panel-file.md and by key_table.h.
#pragma once

#include <memory>
#include <string>
#include <string_view>

#include "sim/base/result.h"
#include "sim/model/panel.h"

namespace understudy {

inline constexpr std::size_t kPanelFileBytesMax = 1'000'000;

// Reads and compiles a file. Errors: kUnusable; a file that cannot be read says why, a wrong one
// has a line for each mistake: "FILE:LINE:COLUMN: KEY: found ..., expected ...; ...".
// Thread: any; reads the file once, from its beginning to its end, and those that sensors name
// beside it. Panel::text is then the panel written out in full, so that it can be read without
// them.
Result<std::shared_ptr<const Panel>> load_panel(const std::string& path);

// The same from a text; `file_name` is for messages only. A sensor that names a file is refused,
// for there is no folder that it could lie in.
Result<std::shared_ptr<const Panel>> parse_panel(std::string_view text, std::string_view file_name);

// Compiles a description made by hand (tests, recordings); what follows from it is filled in, as
// for a file. Errors: kUnusable; messages name the line instead of a place.
Result<std::shared_ptr<const Panel>> compile_panel(PanelDescription description);

// For a box of which nothing is known: no controls, no outputs, lines of no format that end with a
// line feed. No file can say that, so it has no text.
std::shared_ptr<const Panel> bare_panel(const std::string& name);
[[nodiscard]] bool is_bare(const Panel& panel);

// A panel file with every key and its value. Parsing it gives an equal description, for every
// description that came out of parse_panel or load_panel.
std::string resolved_toml(const PanelDescription& description);

}  // namespace understudy
